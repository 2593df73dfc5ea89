package powerloss

import (
	"bytes"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// A scribe writes a recording by hand, a call at every tenth nanosecond.
type scribe struct {
	calls []call
	now   int64
}

const root = "/quilts"

func quoted(path string) string { return `"` + hexed(root+path) + `"` }

func opened(path string) string { return "3<" + hexed(root+path) + ">" }

func (s *scribe) call(result, name string, args ...string) {
	s.now += 10
	s.calls = append(s.calls, call{"p", s.now, s.now + 5, name, args, result})
}

func (s *scribe) create(path string) {
	s.call("3", "openat", "AT_FDCWD</>", quoted(path), "O_RDWR|O_CREAT", "0600")
}
func (s *scribe) write(path, data string) {
	s.call("4", "pwrite64", opened(path), `"`+hexed(data)+`"`, "4", "0")
}
func (s *scribe) sync(path string) { s.call("0", "fsync", opened(path)) }
func (s *scribe) rename(from, to string) {
	s.call("0", "renameat", "AT_FDCWD</>", quoted(from), "AT_FDCWD</>", quoted(to))
}
func (s *scribe) mkdir(path string) {
	s.call("0", "mkdirat", "AT_FDCWD</>", quoted(path), "0700")
}

// blocks are told by a letter each, and bytes that never came by a dash.
var blocks = strings.NewReplacer(strings.Repeat("a", 512), "A", strings.Repeat("b", 512), "B",
	strings.Repeat("\x00", 512), "_", "\x00", "-")

// said is a state in one line.
func said(files Files) string {
	parts := sizes(files)
	for i := range parts {
		name, _, _ := strings.Cut(parts[i], ":")
		parts[i] = name + "=" + blocks.Replace(string(files[name]))
		if files[name] == nil {
			parts[i] = name + "/"
		}
	}
	return strings.Join(parts, " ")
}

func TestWhatMayBeOnTheDisk(t *testing.T) {
	large := strings.Repeat("a", 512) + strings.Repeat("b", 512)
	for _, c := range []struct {
		name  string
		first Files
		do    func(s *scribe)
		may   []string // at the end
		not   []string // never, at any moment
	}{
		{"a write that was not synced is there or not, or only its size", Files{"f": []byte("old.")},
			func(s *scribe) { s.write("/f", "new.") },
			[]string{"f=old.", "f=new."}, []string{"f=", ""}},
		{"a write to a new file may leave its name, its size, or nothing", Files{},
			func(s *scribe) { s.create("/f"); s.write("/f", "new.") },
			[]string{"", "f=", "f=new.", "f=----"}, []string{"f=new"}},
		{"a write that was synced is there, its file's name may not be", Files{},
			func(s *scribe) { s.create("/f"); s.write("/f", "new."); s.sync("/f") },
			[]string{"", "f=new."}, nil},
		{"a rename that was not synced leaves the old name or the new one", Files{"a": []byte("new."), "b": []byte("old.")},
			func(s *scribe) { s.rename("/a", "/b") },
			[]string{"a=new. b=old.", "b=new."}, []string{"b=old.", "a=new.", ""}},
		{"a rename that was synced is done, and what it names may be empty", Files{"b": []byte("old.")},
			func(s *scribe) { s.create("/a"); s.write("/a", "new."); s.rename("/a", "/b"); s.sync("") },
			[]string{"b=", "b=new.", "b=----"}, []string{""}},
		{"a rename into another folder needs both synced", Files{"to": nil, "a": []byte("new.")},
			func(s *scribe) { s.rename("/a", "/to/b"); s.sync("/to") },
			[]string{"a=new. to/", "to/ to/b=new."}, nil},
		{"a folder that was made and not synced may be gone with all in it", Files{},
			func(s *scribe) { s.mkdir("/d"); s.create("/d/f"); s.sync("/d/f"); s.sync("/d") },
			[]string{"", "d/ d/f="}, []string{"d/f="}},
		{"a large write is torn at its blocks", Files{"f": []byte{}},
			func(s *scribe) {
				s.call("1024", "pwrite64", opened("/f"), `"`+hexed(large)+`"`, "1024", "0")
			},
			[]string{"f=", "f=__", "f=_B", "f=A_", "f=AB"}, []string{"f=A", "f=B"}},
		{"what was cut short and not synced may be long", Files{"f": []byte("old.")},
			func(s *scribe) { s.call("0", "ftruncate", opened("/f"), "1") },
			[]string{"f=old.", "f=o"}, []string{"f="}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var s scribe
			c.do(&s)
			r, err := record(root, c.first, s.calls)
			if err != nil {
				t.Fatal(err)
			}
			end, ever := map[string]bool{}, map[string]bool{}
			for _, state := range r.States(1, 40) {
				ever[said(state.Files())] = true
				for _, m := range state.Moments {
					if m.At == never-1 {
						end[said(state.Files())] = true
					}
				}
			}
			for _, want := range c.may {
				if !end[want] {
					t.Errorf("%q is none of the states at the end, %v", want, end)
				}
				delete(end, want)
			}
			if len(end) > 0 {
				t.Errorf("%v may be there at the end, want only %q", end, c.may)
			}
			for _, no := range c.not {
				if ever[no] {
					t.Errorf("%q is one of the states", no)
				}
			}
		})
	}
}

func TestWhereNamesKeepTheirOrder(t *testing.T) {
	var s scribe
	s.create("/a")
	s.create("/b")
	s.create("/other")
	s.sync("/other")
	s.create("/c")
	r, err := record(root, Files{}, s.calls)
	if err != nil {
		t.Fatal(err)
	}
	ordered, strict := map[string]bool{}, map[string]bool{}
	for _, state := range r.States(1, 40) {
		for _, m := range state.Moments {
			if m.Ordered {
				ordered[said(state.Files())] = true
			}
			if m.At == never-1 {
				strict[said(state.Files())] = true
			}
		}
	}
	want := map[string]bool{"": true, "a=": true, "a= b=": true, "a= b= other=": true, "a= b= c= other=": true}
	if !maps.Equal(ordered, want) {
		t.Errorf("in their order: got %v, want %v", ordered, want)
	}
	if len(strict) <= len(want) {
		t.Errorf("without any order at the end: got %v, want later ones without earlier ones too", strict)
	}
}

func TestACallThatIsNotModelledIsSaid(t *testing.T) {
	for _, c := range []call{
		{name: "fallocate", args: []string{opened("/f"), "0", "0", "4096"}},
		{name: "mmap", args: []string{"NULL", "4096", "PROT_READ|PROT_WRITE", "MAP_SHARED", opened("/f"), "0"}},
		{name: "openat", args: []string{"AT_FDCWD</>", quoted("/f"), "O_RDWR|O_DSYNC"}},
	} {
		if _, err := record(root, Files{"f": {}}, []call{c}); err == nil {
			t.Errorf("%s: recorded, want an error", c.name)
		}
	}
}

// A real program, under the real strace.
func TestARecordingLeadsToWhatIsThere(t *testing.T) {
	if out, err := exec.Command("strace", "-D", "-ff", "--seccomp-bpf", "-o", os.DevNull, "true").CombinedOutput(); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("strace: %v: %s; .ci/test installs it", err, out)
		}
		t.Skipf("strace: %v: %s", err, out)
	}
	traces, folder := t.TempDir(), t.TempDir()
	os.WriteFile(filepath.Join(folder, "b"), []byte("old"), 0o600)
	first, err := ReadFiles(folder)
	if err != nil {
		t.Fatal(err)
	}
	traced, err := Traced(traces, "/bin/sh")
	if err != nil {
		t.Fatal(err)
	}
	script := `mkdir "$0/d" && echo new >"$0/d/a" && echo more | tee -a "$0/d/a" && mv "$0/d/a" "$0/b" &&
		ln "$0/b" "$0/c 'd'" && sync "$0/b" && rmdir "$0/d" && : >"$0/c" && rm "$0/c"`
	if out, err := exec.Command(traced, "-c", script, folder).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	r, err := Read(traces, folder, first)
	if err != nil {
		t.Fatal(err)
	}
	states := map[string]bool{}
	for _, s := range r.States(1, 40) {
		states[said(s.Files())] = true
	}
	for _, want := range []string{"b=old", "b=new\nmore\n c 'd'=new\nmore\n", "b=new\nmore\n d/", "b=old d/ d/a=new\n"} {
		if !states[want] {
			t.Errorf("%q is none of the %d states", want, len(states))
		}
	}
	os.WriteFile(filepath.Join(folder, "b"), []byte("by another"), 0o600)
	if _, err := Read(traces, folder, first); err == nil {
		t.Error("a folder that something else wrote to: recorded, want an error")
	}
	if files, _ := ReadFiles(folder); !bytes.Equal(files["b"], []byte("by another")) {
		t.Errorf("b holds %q", files["b"])
	}
}
