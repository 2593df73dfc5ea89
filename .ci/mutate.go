// Mutate changes one operator of a room at a time, picked by chance, and tells which
// changes the room's tests do not notice.
//
//	go run ./.ci/mutate.go [-n 100] [-seed 1] [-tests ./calc,./calc/pack] calc
//
// It works on a copy of the tree. A change that does not build counts for nothing and
// another is picked. One that no test can notice, because what comes out is the same, is
// argued for in .ci/equivalent.txt and left out of the share.
package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/printer"
	"go/token"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"time"
)

// A change is another text for a stretch of a file.
type change struct {
	file     string // from the top of the tree
	line     int
	from, to int // bytes
	text     string
	what     string // "calc/wanted.go NewWanted: maxWidth.Less(cut) => cut.Less(maxWidth)"
}

func main() {
	n := flag.Int("n", 100, "how many changes are tried")
	seed := flag.Uint64("seed", 1, "another seed, another choice")
	tests := flag.String("tests", "", "rooms whose tests are run, parted by commas; else the room's")
	limit := flag.Duration("timeout", 2*time.Minute, "for the tests of one change")
	jobs := flag.Int("j", 2, "how many at once")
	only := flag.String("only", "", "all changes whose line in the report holds this text")
	flag.Parse()
	if flag.NArg() != 1 {
		flag.Usage()
		os.Exit(2)
	}
	room := filepath.Clean(flag.Arg(0))
	rooms := []string{"./" + room}
	if *tests != "" {
		rooms = strings.Split(*tests, ",")
	}
	if err := (sample{room, rooms, *n, *seed, *limit, *jobs, *only}).run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// A sample is what the flags ask for.
type sample struct {
	room  string
	tests []string // "./" before each
	n     int
	seed  uint64
	limit time.Duration
	jobs  int
	only  string
}

func (s sample) run() error {
	tree, err := copyOfTree()
	if err != nil {
		return err
	}
	defer os.RemoveAll(tree)
	argued, err := equivalents(tree)
	if err != nil {
		return err
	}
	all, err := changes(tree, s.room)
	if err != nil {
		return err
	}
	if len(all) == 0 {
		return fmt.Errorf("%s has nothing to change", s.room)
	}
	if how := outcome(tree, change{file: all[0].file}, s.tests, s.limit); how != "survived" {
		return fmt.Errorf("without any change the tests of %s: %s", strings.Join(s.tests, ", "), how)
	}
	r := rand.New(rand.NewPCG(s.seed, 0))
	r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	n := s.n
	if s.only != "" {
		some := all[:0]
		for _, c := range all {
			if strings.Contains(c.what, s.only) {
				some = append(some, c)
			}
		}
		all, n = some, len(some)
	}

	var mu sync.Mutex
	next, tried, killed, left := 0, 0, 0, 0
	var group sync.WaitGroup
	for range s.jobs {
		group.Go(func() {
			for {
				mu.Lock()
				if next == len(all) || tried == n {
					mu.Unlock()
					return
				}
				c := all[next]
				next++
				tried++
				mu.Unlock()
				how := outcome(tree, c, s.tests, s.limit)
				mu.Lock()
				switch {
				case how == "does not build":
					tried--
				case how == "survived" && argued[c.what]:
					how = "equivalent"
					left++
				case how != "survived":
					killed++
				}
				if how != "does not build" || s.only != "" {
					fmt.Printf("%-14s line %d of %s\n", how, c.line, c.what)
				}
				mu.Unlock()
			}
		})
	}
	group.Wait()
	if tried > left {
		share := 100 * float64(killed) / float64(tried-left)
		fmt.Printf("%s, seed %d: %d of %d noticed, %.0f %%; %d argued for\n",
			s.room, s.seed, killed, tried-left, share, left)
	}
	return nil
}

// copyOfTree is a folder with all files that git knows or would add.
func copyOfTree() (string, error) {
	list, err := exec.Command("git", "ls-files", "-co", "--exclude-standard", "-z").Output()
	if err != nil {
		return "", fmt.Errorf("list the tree's files: %w", err)
	}
	tree, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return "", err
	}
	for _, name := range strings.Split(strings.Trim(string(list), "\x00"), "\x00") {
		data, err := os.ReadFile(name)
		if os.IsNotExist(err) { // deleted, and git not told yet
			continue
		}
		to := filepath.Join(tree, name)
		if err == nil {
			err = os.MkdirAll(filepath.Dir(to), 0o755)
		}
		if err == nil {
			err = os.WriteFile(to, data, 0o755)
		}
		if err != nil {
			return "", err
		}
	}
	return tree, nil
}

// equivalents are the changes that are argued for: a line each, with the reason behind
// " // ".
func equivalents(tree string) (map[string]bool, error) {
	data, err := os.ReadFile(filepath.Join(tree, ".ci", "equivalent.txt"))
	if os.IsNotExist(err) {
		return nil, nil
	}
	argued := map[string]bool{}
	for _, line := range strings.Split(string(data), "\n") {
		if what, why, ok := strings.Cut(line, " // "); ok && strings.TrimSpace(why) != "" {
			argued[strings.TrimSpace(what)] = true
		}
	}
	return argued, err
}

// outcome is what the tests of these rooms make of a change. The file is laid over the
// copy for this one build; a test that eats memory is stopped as one that takes too long.
func outcome(tree string, c change, rooms []string, limit time.Duration) string {
	dir, err := os.MkdirTemp("", "mutant")
	if err != nil {
		return err.Error()
	}
	defer os.RemoveAll(dir)
	laid, err := lay(tree, dir, c)
	if err != nil {
		return err.Error()
	}
	for i, room := range rooms {
		binary := filepath.Join(dir, fmt.Sprint("test", i))
		build := exec.Command("go", "test", "-c", "-vet=off", "-overlay", laid, "-o", binary, room)
		build.Dir = tree
		if build.Run() != nil {
			return "does not build"
		}
		ctx, stop := context.WithTimeout(context.Background(), limit)
		run := exec.CommandContext(ctx, "sh", "-c",
			`ulimit -v 8000000; exec "$0" -test.failfast -test.short`, binary)
		run.Dir = filepath.Join(tree, room)
		run.WaitDelay = time.Second
		err := run.Run()
		late := ctx.Err() != nil
		stop()
		switch {
		case late:
			return "killed by time"
		case err != nil:
			return "killed"
		}
	}
	return "survived"
}

// lay is a file that tells the compiler to read c.file with its change.
func lay(tree, dir string, c change) (string, error) {
	file := filepath.Join(tree, c.file)
	source, err := os.ReadFile(file)
	if err != nil {
		return "", err
	}
	changed, laid := filepath.Join(dir, "changed.go"), filepath.Join(dir, "overlay.json")
	text := string(source[:c.from]) + c.text + string(source[c.to:])
	if err := os.WriteFile(changed, []byte(text), 0o644); err != nil {
		return "", err
	}
	overlay, err := json.Marshal(map[string]any{"Replace": map[string]string{file: changed}})
	if err != nil {
		return "", err
	}
	return laid, os.WriteFile(laid, overlay, 0o644)
}

// Operators and what each may become.
var others = map[token.Token][]token.Token{
	token.LSS: {token.LEQ, token.GEQ}, token.LEQ: {token.LSS, token.GTR},
	token.GTR: {token.GEQ, token.LEQ}, token.GEQ: {token.GTR, token.LSS},
	token.EQL: {token.NEQ}, token.NEQ: {token.EQL},
	token.LAND: {token.LOR}, token.LOR: {token.LAND},
	token.ADD: {token.SUB}, token.SUB: {token.ADD},
	token.MUL: {token.QUO}, token.QUO: {token.MUL}, token.REM: {token.MUL},
	token.ADD_ASSIGN: {token.SUB_ASSIGN}, token.SUB_ASSIGN: {token.ADD_ASSIGN},
	token.MUL_ASSIGN: {token.QUO_ASSIGN}, token.QUO_ASSIGN: {token.MUL_ASSIGN},
	token.INC: {token.DEC}, token.DEC: {token.INC},
}

// Methods and functions that are operators here: a length has no others.
var named = map[string]string{
	"Add": "Sub", "Sub": "Add", "min": "max", "max": "min", "lesser": "longer", "longer": "lesser",
}

// changes are all that can be made in a room's files, its tests left out.
func changes(tree, room string) ([]change, error) {
	names, err := filepath.Glob(filepath.Join(tree, room, "*.go"))
	if err != nil {
		return nil, err
	}
	var all []change
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		source, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		fset := token.NewFileSet()
		file, err := parser.ParseFile(fset, name, source, 0)
		if err != nil {
			return nil, err
		}
		within, err := filepath.Rel(tree, name)
		if err != nil {
			return nil, err
		}
		w := walker{fset: fset, source: source, file: within}
		for _, d := range file.Decls {
			w.within = "a declaration"
			if f, ok := d.(*ast.FuncDecl); ok {
				w.within = f.Name.Name
			}
			ast.Inspect(d, w.visit)
		}
		all = append(all, w.all...)
	}
	return all, nil
}

type walker struct {
	fset         *token.FileSet
	source       []byte
	file, within string
	all          []change
}

// visit notes what can be changed at a node.
func (w *walker) visit(n ast.Node) bool {
	switch x := n.(type) {
	case *ast.BinaryExpr:
		for _, op := range others[x.Op] {
			w.swap(x, x.OpPos, x.Op.String(), op.String())
		}
	case *ast.AssignStmt:
		for _, op := range others[x.Tok] {
			w.swap(x, x.TokPos, x.Tok.String(), op.String())
		}
	case *ast.IncDecStmt:
		for _, op := range others[x.Tok] {
			w.swap(x, x.TokPos, x.Tok.String(), op.String())
		}
	case *ast.UnaryExpr:
		if x.Op == token.NOT {
			w.swap(x, x.OpPos, "!", "")
		}
	case *ast.CallExpr:
		switch f := x.Fun.(type) {
		case *ast.Ident:
			if to := named[f.Name]; to != "" {
				w.swap(x, f.Pos(), f.Name, to)
			}
		case *ast.SelectorExpr:
			if to := named[f.Sel.Name]; to != "" {
				w.swap(x, f.Sel.Pos(), f.Sel.Name, to)
			}
			if f.Sel.Name == "Less" && len(x.Args) == 1 { // turned round, and with "or equal"
				w.replace(x, fmt.Sprintf("(%s).Less(%s)", w.text(x.Args[0]), w.text(f.X)))
				w.replace(x, fmt.Sprintf("!(%s).Less(%s)", w.text(x.Args[0]), w.text(f.X)))
			}
			if f.Sel.Name == "Half" && len(x.Args) == 0 {
				w.replace(x, w.text(f.X))
			}
		}
	}
	return true
}

func (w *walker) text(n ast.Node) string {
	return string(w.source[w.offset(n.Pos()):w.offset(n.End())])
}

func (w *walker) offset(p token.Pos) int { return w.fset.Position(p).Offset }

// swap puts another operator at this place of a node.
func (w *walker) swap(n ast.Node, at token.Pos, from, to string) {
	start := w.offset(n.Pos())
	i := w.offset(at)
	whole := string(w.source[start:i]) + to + string(w.source[i+len(from):w.offset(n.End())])
	w.note(n, i, i+len(from), to, whole)
}

func (w *walker) replace(n ast.Node, to string) {
	w.note(n, w.offset(n.Pos()), w.offset(n.End()), to, to)
}

func (w *walker) note(n ast.Node, from, to int, text, whole string) {
	var before bytes.Buffer
	printer.Fprint(&before, w.fset, n)
	line := func(s string) string {
		if s = strings.Join(strings.Fields(s), " "); len(s) > 120 {
			s = s[:120] + "…"
		}
		return s
	}
	w.all = append(w.all, change{
		file: w.file, line: w.fset.Position(n.Pos()).Line, from: from, to: to, text: text,
		what: fmt.Sprintf("%s %s: %s => %s", w.file, w.within, line(before.String()), line(whole)),
	})
}
