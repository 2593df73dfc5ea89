package steps

import "cornerwise/calc"

// What the tests of package steps_test can't see from outside: the procedure's tables.
// Everything else is tested as session sees it.

// KnowsVerb tells whether an act that begins with a word is a deed to be ticked.
func KnowsVerb(word string) bool {
	_, ok := verbs[sentence(word)]
	return ok
}

// ActsOf are the commands that a way out is taken apart into.
func ActsOf(way calc.WayOut) []string {
	var say []string
	for _, a := range actsOf(way) {
		say = append(say, a.say)
	}
	return say
}
