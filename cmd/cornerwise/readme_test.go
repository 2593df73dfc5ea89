//go:build linux

package main

import (
	"bufio"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
)

var (
	fencedCommands = regexp.MustCompile("(?s)```sh\n(.*?)```")
	fencedPlan     = regexp.MustCompile("(?s)```json\n(.*?)```")
	spokenCommand  = regexp.MustCompile("`((?:cornerwise|go run|bash) [^`]+)`")
)

// readmeCommands are all commands of the README, as they stand there.
func readmeCommands(readme string) (all []string) {
	for _, block := range fencedCommands.FindAllStringSubmatch(readme, -1) {
		for line := range strings.Lines(block[1]) {
			command, _, _ := strings.Cut(line, "#")
			all = append(all, strings.TrimSpace(command))
		}
	}
	for _, span := range spokenCommand.FindAllStringSubmatch(readme, -1) {
		all = append(all, span[1])
	}
	return all
}

// Every command of the README works as it stands there: from the source as it comes, and with the
// program in a folder where nothing else is. A stick is a folder here.
func TestEveryCommandOfTheReadmeWorks(t *testing.T) {
	long(t)
	t.Parallel()
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	readme, h := string(text), newHome(t)
	source, place, stick := filepath.Join(h.at, "source"), filepath.Join(h.at, "place"), filepath.Join(h.at, "stick")
	for _, folder := range []string{source, place, stick} {
		if err := os.MkdirAll(folder, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	sh := func(folder, command string) *exec.Cmd {
		cmd := exec.Command("bash", "-c", command)
		cmd.Dir = folder
		cmd.Env = append(os.Environ(), h.env...)
		cmd.Env = append(cmd.Env, "CORNERWISE_NO_BROWSER=true",
			"PATH="+place+":"+filepath.Join(h.at, "bin")+":"+os.Getenv("PATH"),
			"TMPDIR="+os.TempDir(), "GOCACHE="+goEnv(t, "GOCACHE"), "GOMODCACHE="+goEnv(t, "GOMODCACHE"))
		cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
		return cmd
	}
	runs := func(folder, command string) string {
		t.Helper()
		said, err := sh(folder, command).CombinedOutput()
		if err != nil {
			t.Fatalf("%s: %v: %s", command, err, said)
		}
		return string(said)
	}
	repository, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	runs(repository, "git ls-files -z --cached --others --exclude-standard | tar --null -T - -c | tar -x -C "+source)
	runs(source, "cp "+command+" "+filepath.Join(place, "cornerwise"))
	plan := fencedPlan.FindStringSubmatch(readme)
	if plan == nil {
		t.Fatal("the README has no plan")
	}
	if err := os.WriteFile(filepath.Join(place, "my-quilt.json"), []byte(plan[1]), 0o644); err != nil {
		t.Fatal(err)
	}

	// serves starts a command that serves, and has it answer; it ends as Ctrl-C ends it.
	serves := func(folder, command string) (end func()) {
		t.Helper()
		cmd := sh(folder, command)
		s := await(t, "", cmd)
		if s.url == "" {
			t.Fatalf("%s: printed %q, want the address to open; stderr %s", command, s.words, s.stderr)
		}
		if status, err := s.call("GET", "/", "", nil); status != 200 || err != nil {
			t.Errorf("%s: GET /: got %d %v, want 200", command, status, err)
		}
		end = sync.OnceFunc(func() {
			syscall.Kill(-cmd.Process.Pid, syscall.SIGINT)
			cmd.Wait()
		})
		t.Cleanup(end)
		return end
	}
	// says has a command show a code; it goes on with the next ones until it is stopped.
	says := func(folder, command string) {
		t.Helper()
		cmd := sh(folder, command)
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		lines, all := bufio.NewScanner(out), ""
		for !strings.Contains(all, "code") && lines.Scan() {
			all += lines.Text() + "\n"
		}
		if !strings.Contains(all, "code") {
			t.Errorf("%s: printed %q, want a code", command, all)
		}
		syscall.Kill(-cmd.Process.Pid, syscall.SIGINT)
		cmd.Wait()
	}
	done := map[string]bool{}
	is := func(command string) string { done[command] = true; return command }

	end := serves(source, is("go run ./cmd/cornerwise --demo"))
	if said := runs(place, is("cornerwise --version")); !strings.HasPrefix(said, "cornerwise ") {
		t.Errorf("cornerwise --version: got %q, want what it is", said)
	}
	says(place, is("cornerwise pair"))
	says(place, is(`cornerwise pair --quilt "Harbour lanterns"`))
	onStick := strings.NewReplacer("/media/stick", stick)
	for _, command := range []string{
		"cornerwise backup /media/stick/quilts.db", "cornerwise check", "cornerwise restore /media/stick/quilts.db",
	} {
		runs(place, onStick.Replace(is(command)))
	}
	end()
	serves(place, is("./cornerwise"))()
	for _, command := range []string{
		"cornerwise plan my-quilt.json", "cornerwise plan my-quilt.json --how", "cornerwise plan my-quilt.json --json",
	} {
		if said := runs(place, is(command)); !strings.Contains(said, "65 1/2") {
			t.Errorf("%s: the sheet lacks the length of the strips: %s", command, said)
		}
	}
	is("cornerwise service install") // TestTheComputerStartsIt
	is("bash .ci/test")              // this test is a part of it
	runs(source, "bash -n .ci/test")

	for _, command := range readmeCommands(readme) {
		if !done[command] {
			t.Errorf("the README has the command %q, and nothing runs it", command)
		}
	}
	for command := range done {
		if !slices.Contains(readmeCommands(readme), command) {
			t.Errorf("%q is run here, and the README has it no more", command)
		}
	}
}

func goEnv(t *testing.T, name string) string {
	t.Helper()
	value, err := exec.Command("go", "env", name).Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSpace(string(value))
}
