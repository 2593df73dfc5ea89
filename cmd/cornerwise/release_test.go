//go:build linux

package main

import (
	"bytes"
	"debug/buildinfo"
	"debug/elf"
	"debug/macho"
	"debug/pe"
	"encoding/binary"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"unicode/utf16"
)

// The folder that .ci/release filled; without it there is nothing to try.
var release = flag.String("release", "", "the folder of a release to try")

// A download is one archive, unpacked as its user would.
type download struct {
	version, os, arch string
	folder            string // with the program in it
	program           string
}

// systems are what the download page has: with what their programs run here, "" for by itself and
// - for not at all.
var systems = []struct{ os, arch, packed, by string }{
	{"linux", "amd64", ".tar.gz", ""},
	{"linux", "arm64", ".tar.gz", "qemu-aarch64-static"},
	{"linux", "armv6", ".tar.gz", "qemu-arm-static"},
	{"freebsd", "amd64", ".tar.gz", "-"},
	{"darwin", "amd64", ".zip", "-"},
	{"darwin", "arm64", ".zip", "-"},
	{"windows", "amd64", ".zip", "-"},
	{"windows", "arm64", ".zip", "-"},
}

func unpack(t *testing.T, system, arch, packed string) download {
	t.Helper()
	end := "-" + system + "-" + arch + packed
	found, err := filepath.Glob(filepath.Join(*release, "cornerwise-*"+end))
	if err != nil || len(found) != 1 {
		t.Fatalf("%s: got %v %v, want one archive", end, found, err)
	}
	archive, err := filepath.Abs(found[0])
	if err != nil {
		t.Fatal(err)
	}
	name := strings.TrimSuffix(filepath.Base(archive), packed)
	d := download{os: system, arch: arch, folder: t.TempDir(),
		version: strings.TrimPrefix(strings.TrimSuffix(name, "-"+system+"-"+arch), "cornerwise-")}
	by := []string{"tar", "-xzf", archive}
	if packed == ".zip" {
		by = []string{"unzip", "-q", archive}
	}
	cmd := exec.Command(by[0], by[1:]...)
	cmd.Dir = d.folder
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %v\n%s", by, err, out)
	}
	if packed == ".tar.gz" {
		d.folder = filepath.Join(d.folder, name)
	}
	d.program = filepath.Join(d.folder, "cornerwise")
	if system == "windows" {
		d.program += ".exe"
	}
	return d
}

func needsRelease(t *testing.T) {
	t.Helper()
	if *release == "" {
		t.Skip("no release to try (-release DIR)")
	}
}

func TestADownloadHoldsWhatItNeedsAndNothingElse(t *testing.T) {
	needsRelease(t)
	sums := exec.Command("sha256sum", "--strict", "--check", "SHA256SUMS")
	sums.Dir = *release
	if out, err := sums.CombinedOutput(); err != nil {
		t.Errorf("SHA256SUMS: %v\n%s", err, out)
	}
	for _, s := range systems {
		t.Run(s.os+" "+s.arch, func(t *testing.T) {
			d := unpack(t, s.os, s.arch, s.packed)
			var names []string
			entries, err := os.ReadDir(d.folder)
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range entries {
				names = append(names, e.Name())
			}
			want := []string{"LICENSES.txt", "README.txt", filepath.Base(d.program), "cornerwise.cdx.json"}
			if slices.Sort(want); !slices.Equal(names, want) {
				t.Errorf("the archive holds %v, want %v", names, want)
			}
			d.listsItsParts(t)
			d.isMadeForItsSystem(t)
			if s.by != "-" {
				d.isSewnWith(t, s.by)
			}
		})
	}
}

// A package that was removed and is put back starts as at first; dpkg works on a folder here, and
// systemd is asked for nothing.
func TestAPackageThatIsPutBackStarts(t *testing.T) {
	needsRelease(t)
	found, err := filepath.Glob(filepath.Join(*release, "cornerwise-*-linux-amd64.deb"))
	if err != nil || len(found) != 1 {
		t.Fatalf("got %v %v, want one package", found, err)
	}
	if _, err := exec.LookPath("dpkg"); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal(err)
		}
		t.Skip(err)
	}
	root, tools := t.TempDir(), t.TempDir()
	for _, folder := range []string{"info", "updates", "triggers"} {
		if err := os.MkdirAll(filepath.Join(root, "var/lib/dpkg", folder), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	asked := filepath.Join(tools, "asked")
	for path, text := range map[string]string{
		filepath.Join(root, "var/lib/dpkg/status"): "",
		filepath.Join(tools, "systemctl"):          "#!/bin/sh\necho \"$1 $2\" >>'" + asked + "'\n",
		filepath.Join(tools, "systemd-sysusers"):   "#!/bin/sh\n",
	} {
		if err := os.WriteFile(path, []byte(text), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	dpkg := func(args ...string) (said, did string) {
		t.Helper()
		os.Remove(asked)
		cmd := exec.Command("dpkg", append([]string{"--root=" + root, "--log=/dev/null",
			"--force-not-root", "--force-script-chrootless", "--force-architecture"}, args...)...)
		cmd.Env = append(os.Environ(), "PATH="+tools+":"+os.Getenv("PATH")+":/usr/sbin:/sbin")
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("dpkg %s: %v\n%s", args, err, out)
		}
		notes, _ := os.ReadFile(asked)
		return string(out), string(notes)
	}
	for _, time := range []string{"at first", "put back"} {
		if said, did := dpkg("-i", found[0]); !strings.Contains(did, "enable cornerwise.service") || !strings.Contains(said, "cornerwise pair") {
			t.Errorf("%s: systemctl was asked %q, said %q; want it enabled", time, did, said)
		}
		if _, did := dpkg("-i", found[0]); strings.Contains(did, "enable") {
			t.Errorf("%s, an update: systemctl was asked %q, want nothing switched on or off", time, did)
		}
		if _, did := dpkg("-r", "cornerwise"); !strings.Contains(did, "disable cornerwise.service") {
			t.Errorf("%s, removed: systemctl was asked %q, want it disabled", time, did)
		}
	}
}

// listsItsParts looks for each module of the program in both lists of parts.
func (d download) listsItsParts(t *testing.T) {
	t.Helper()
	info, err := buildinfo.ReadFile(d.program)
	if err != nil {
		t.Fatal(err)
	}
	if len(info.Deps) < 5 {
		t.Errorf("got %d modules, want more", len(info.Deps))
	}
	lists := map[string]string{
		"LICENSES.txt":        "\nMODULE VERSION\n===",
		"cornerwise.cdx.json": `"pkg:golang/MODULE@VERSION`,
	}
	for list, form := range lists {
		said, err := os.ReadFile(filepath.Join(d.folder, list))
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range info.Deps {
			one := strings.NewReplacer("MODULE", m.Path, "VERSION", m.Version).Replace(form)
			if !strings.Contains(string(said), one) {
				t.Errorf("%s: got nothing of %s %s", list, m.Path, m.Version)
			}
		}
	}
	for _, s := range info.Settings {
		if s.Key == "-ldflags" || strings.HasPrefix(s.Key, "vcs") {
			t.Errorf("the program tells %s, which depends on where it was built", s.Key)
		}
	}
}

// isMadeForItsSystem reads the headers of the program: it asks for no more than the system has.
func (d download) isMadeForItsSystem(t *testing.T) {
	t.Helper()
	var asked []string
	allowed := func(string) bool { return false }
	var err error
	switch d.os {
	case "linux", "freebsd":
		f, fault := elf.Open(d.program)
		if fault != nil {
			t.Fatal(fault)
		}
		defer f.Close()
		machine := map[string]elf.Machine{
			"amd64": elf.EM_X86_64, "arm64": elf.EM_AARCH64, "armv6": elf.EM_ARM,
		}[d.arch]
		if f.Machine != machine || (f.OSABI == elf.ELFOSABI_FREEBSD) != (d.os == "freebsd") {
			t.Errorf("it is for %v on %v, want %s on %s", f.Machine, f.OSABI, d.arch, d.os)
		}
		asked, err = f.ImportedLibraries()
	case "darwin":
		f, fault := macho.Open(d.program)
		if fault != nil {
			t.Fatal(fault)
		}
		defer f.Close()
		cpu := map[string]macho.Cpu{"amd64": macho.CpuAmd64, "arm64": macho.CpuArm64}[d.arch]
		if f.Cpu != cpu {
			t.Errorf("it is for %v, want %v", f.Cpu, cpu)
		}
		asked, err = f.ImportedLibraries()
		allowed = func(lib string) bool {
			return strings.HasPrefix(lib, "/usr/lib/") || strings.HasPrefix(lib, "/System/Library/")
		}
		// Macs with Apple's own processors start nothing that has no signature at all.
		const codeSignature = 0x1d // LC_CODE_SIGNATURE in mach-o/loader.h
		signed := slices.ContainsFunc(f.Loads, func(l macho.Load) bool {
			return f.ByteOrder.Uint32(l.Raw()) == codeSignature
		})
		if d.arch == "arm64" && !signed {
			t.Error("it has no signature, want the one that the linker makes")
		}
	case "windows":
		f, fault := pe.Open(d.program)
		if fault != nil {
			t.Fatal(fault)
		}
		defer f.Close()
		machine := map[string]uint16{
			"amd64": pe.IMAGE_FILE_MACHINE_AMD64, "arm64": pe.IMAGE_FILE_MACHINE_ARM64,
		}[d.arch]
		if f.Machine != machine {
			t.Errorf("it is for machine %#x, want %#x", f.Machine, machine)
		}
		asked, err = f.ImportedLibraries()
		allowed = func(lib string) bool { return strings.EqualFold(lib, "kernel32.dll") }
		shown := []byte{} // as Windows shows it: in UTF-16
		for _, letter := range utf16.Encode([]rune(d.version)) {
			shown = binary.LittleEndian.AppendUint16(shown, letter)
		}
		resources := f.Section(".rsrc")
		if resources == nil {
			t.Fatal("it has no icon")
		}
		if held, err := resources.Data(); err != nil || !bytes.Contains(held, shown) ||
			!bytes.Contains(held, []byte("\x89PNG")) {
			t.Errorf("it has no icon, or not the version for Windows to show; %v", err)
		}
	}
	if err != nil {
		t.Fatal(err)
	}
	for _, lib := range asked {
		if !allowed(lib) {
			t.Errorf("it asks for %s, which the system may not have", lib)
		}
	}
}

// isSewnWith starts the program without arguments, as a user who has nothing but its folder. by is
// what runs it.
func (d download) isSewnWith(t *testing.T, by string) {
	t.Helper()
	home := t.TempDir()
	program := func(args ...string) *exec.Cmd {
		if by != "" {
			path, err := exec.LookPath(by)
			if err != nil {
				if os.Getenv("CI") != "" {
					t.Fatal(err)
				}
				t.Skip(err)
			}
			args = append([]string{path, d.program}, args...)
		} else {
			args = append([]string{d.program}, args...)
		}
		cmd := exec.Command(args[0], args[1:]...)
		cmd.Dir = d.folder
		cmd.Env = []string{"HOME=" + home, "CORNERWISE_LISTEN=127.0.0.1:0", "CORNERWISE_NO_BROWSER=1"}
		if os.Getuid() == 0 {
			cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
		}
		return cmd
	}
	if os.Getuid() == 0 {
		letIn(t, d.folder)
		letIn(t, home)
		if err := os.Chown(home, nobody, nobody); err != nil {
			t.Fatal(err)
		}
	}
	said, err := program("--version").Output()
	if err != nil || !strings.HasPrefix(string(said), "cornerwise "+d.version+", 2") {
		t.Errorf("--version: got %q %v, want %s", said, err, d.version)
	}

	begin := func() *server {
		t.Helper()
		s := await(t, "", program())
		if s.url == "" {
			t.Fatalf("printed %q, want the address to open; stderr %s", s.words, s.stderr)
		}
		return s
	}
	s := begin()
	id, _ := s.begin()
	ticked := s.undone(id)[0]
	s.op(id, "%s", tickText("one", ticked, true))
	s.kill()

	s = begin()
	if left := s.undone(id); slices.Contains(left, ticked) {
		t.Errorf("after a kill %s is open again", ticked)
	}
	if status, err := s.call("GET", "/s/"+id, "", nil); status != 200 || err != nil {
		t.Errorf("the quilt's page: got %d %v, want 200", status, err)
	}
	s.stop(syscall.SIGTERM)
	if _, err := os.Stat(filepath.Join(home, ".local/share/cornerwise/cornerwise.db")); err != nil {
		t.Errorf("the quilts: %v, want them in the user's own folder", err)
	}
}

// undone are the ticks of a session that are open, in order.
func (s *server) undone(id string) (ticks []string) {
	s.t.Helper()
	var state struct {
		Stages []struct {
			Steps []struct {
				Ticks []struct {
					ID   string
					Done bool
				}
			}
		}
	}
	if status, err := s.call("GET", "/api/v1/sessions/"+id, "", &state); status != 200 || err != nil {
		s.t.Fatalf("the session: got %d %v, want 200", status, err)
	}
	for _, stage := range state.Stages {
		for _, step := range stage.Steps {
			for _, tick := range step.Ticks {
				if !tick.Done {
					ticks = append(ticks, tick.ID)
				}
			}
		}
	}
	return ticks
}

// nobody is the user who owns nothing.
const nobody = 65534

// letIn lets any user reach a folder.
func letIn(t *testing.T, folder string) {
	t.Helper()
	for at := folder; strings.HasPrefix(at, os.TempDir()) && at != os.TempDir(); at = filepath.Dir(at) {
		if err := os.Chmod(at, 0o755); err != nil {
			t.Fatal(err)
		}
	}
}

// The packages bring the program of the archive, and a service that systemd takes as it stands
// and holds to little.
func TestAPackageBringsTheServiceOfItsProgram(t *testing.T) {
	needsRelease(t)
	for _, p := range []struct{ arch, deb, rpm string }{
		{"amd64", "amd64", "x86_64"}, {"arm64", "arm64", "aarch64"}, {"armv6", "armhf", "armv6hl"},
	} {
		t.Run(p.arch, func(t *testing.T) {
			d := unpack(t, "linux", p.arch, ".tar.gz")
			release, err := filepath.Abs(*release)
			if err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(release, "cornerwise-"+d.version+"-linux-"+p.arch)
			deb, rpm := file+".deb", file+".rpm"
			version := strings.Replace(d.version, "-", "~", 1) // which both take for earlier
			said, err := tried("dpkg-deb", "--show", "--showformat", "${Architecture} ${Version}", deb)
			if want := p.deb + " " + version; err != nil || said != want {
				t.Errorf("the .deb is %q %v, want %q", said, err, want)
			}
			said, err = tried("rpm", "--query", "--queryformat", "%{ARCH} %{VERSION}", "--package", rpm)
			if want := p.rpm + " " + version; err != nil || said != want {
				t.Errorf("the .rpm is %q %v, want %q", said, err, want)
			}
			listed, err := tried("rpm", "--query", "--list", "--package", rpm)
			root := t.TempDir()
			if said, err := tried("dpkg-deb", "--extract", deb, root); err != nil {
				t.Fatalf("dpkg-deb: %v %s", err, said)
			}
			for _, path := range []string{"/usr/bin/cornerwise", "/usr/lib/systemd/system/cornerwise.service",
				"/usr/lib/sysusers.d/cornerwise.conf", "/usr/share/doc/cornerwise/SERVICE.txt",
				"/usr/share/doc/cornerwise/LICENSES.txt"} {
				if _, missing := os.Stat(root + path); missing != nil || !strings.Contains(listed, path+"\n") {
					t.Errorf("%s: want it in both packages; %v, %v", path, missing, err)
				}
			}
			if said, err := tried("cmp", root+"/usr/bin/cornerwise", d.program); err != nil {
				t.Errorf("the program of the package is another than that of the archive: %s", said)
			}
			// The service calls it, and it is not in this root.
			if err := os.MkdirAll(root+"/bin", 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(root+"/bin/chown", nil, 0o755); err != nil {
				t.Fatal(err)
			}
			said, err = tried("systemd-analyze", "verify", "--man=no", "--recursive-errors=no",
				"--root="+root, "cornerwise.service")
			if err != nil || said != "" {
				t.Errorf("systemd-analyze verify: got %v %s, want nothing to say", err, said)
			}
			said, err = tried("systemd-analyze", "security", "--offline=yes", "--threshold=20",
				"--root="+root, "cornerwise.service") // 2.0 of 10, which is all
			if err != nil {
				t.Errorf("systemd-analyze security: got %v %s, want at most 2.0", err, said)
			}
		})
	}
}

// tried is what a command says, on either output.
func tried(args ...string) (string, error) {
	said, err := exec.Command(args[0], args[1:]...).CombinedOutput()
	return string(said), err
}
