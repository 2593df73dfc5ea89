package steps_test

import (
	"fmt"
	"reflect"

	"cornerwise/calc"
)

// alike tells the first place in which two values differ, down to what nobody sees; "": they
// are alike. Nothing is like empty, a length is like one of its value, and of functions only
// whether there is one is looked at.
func alike(a, b any) string {
	return alikeAt(reflect.ValueOf(a), reflect.ValueOf(b), "", map[[2]uintptr]bool{})
}

func alikeAt(a, b reflect.Value, at string, met map[[2]uintptr]bool) string {
	differ := func() string { return fmt.Sprintf("%s: %v, and %v", at, a, b) }
	if a.IsValid() != b.IsValid() || a.IsValid() && a.Type() != b.Type() {
		return differ()
	}
	switch a.Kind() {
	case reflect.Pointer:
		pair := [2]uintptr{a.Pointer(), b.Pointer()}
		if a.Pointer() == b.Pointer() || met[pair] {
			return ""
		}
		if met[pair] = true; a.IsNil() || b.IsNil() {
			return differ()
		}
		return alikeAt(a.Elem(), b.Elem(), at, met)
	case reflect.Interface:
		return alikeAt(a.Elem(), b.Elem(), at, met)
	case reflect.Slice, reflect.Array:
		if a.Len() != b.Len() {
			return fmt.Sprintf("%s: %d of them, and %d: %v, and %v", at, a.Len(), b.Len(), a, b)
		}
		if a.Kind() == reflect.Slice && a.Pointer() == b.Pointer() {
			return ""
		}
		for i := range a.Len() {
			if d := alikeAt(a.Index(i), b.Index(i), fmt.Sprintf("%s[%d]", at, i), met); d != "" {
				return d
			}
		}
		return ""
	case reflect.Map:
		if a.Len() != b.Len() {
			return differ()
		}
		for _, key := range a.MapKeys() {
			if d := alikeAt(a.MapIndex(key), b.MapIndex(key), fmt.Sprintf("%s[%v]", at, key), met); d != "" {
				return d
			}
		}
		return ""
	case reflect.Func:
		if a.IsNil() != b.IsNil() {
			return differ()
		}
		return ""
	case reflect.Struct:
		if a.Type() == reflect.TypeFor[calc.Length]() {
			if fraction(a) != fraction(b) {
				return differ()
			}
			return ""
		}
		for i := range a.NumField() {
			if d := alikeAt(a.Field(i), b.Field(i), at+"."+a.Type().Field(i).Name, met); d != "" {
				return d
			}
		}
		return ""
	}
	if fmt.Sprint(a) != fmt.Sprint(b) {
		return differ()
	}
	return ""
}

// fraction is a length's, as the words of its parts: sign, numerator, denominator.
func fraction(length reflect.Value) string {
	rat := length.Field(0)
	if rat.IsNil() {
		return "false [] [1]"
	}
	over, under := rat.Elem().Field(0), rat.Elem().Field(1)
	below := fmt.Sprint(under.Field(1))
	if below == "[]" {
		below = "[1]"
	}
	return fmt.Sprint(over.Field(0), over.Field(1), below)
}
