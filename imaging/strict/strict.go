package strict

import (
	"bytes"
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"reflect"
	"slices"
	"strings"
)

// Decode reads the one JSON value in data into v, a pointer to a struct.
// Fields that data leaves out keep what v held.
func Decode(data []byte, v any) error {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")) // some editors put this mark before text
	if at := twice(data); at != "" {
		return fmt.Errorf("%s stands there twice: take out the one that is wrong", at)
	}
	if err := known(data, reflect.TypeOf(v).Elem(), ""); err != nil {
		return err
	}
	dec := json.NewDecoder(bytes.NewReader(data))
	if err := dec.Decode(v); err != nil {
		return plain(err)
	}
	if _, err := dec.Token(); err != io.EOF {
		return errors.New("more follows after the closing brace: keep one JSON object a file")
	}
	return nil
}

// plain turns the decoder's errors into the words of the program's messages.
func plain(err error) error {
	wrongType, isType := err.(*json.UnmarshalTypeError) // not one wrapped in a better sentence
	var syntax *json.SyntaxError
	switch {
	case isType && strings.HasPrefix(wrongType.Value, "number "):
		return fmt.Errorf("%s is %s, which is no %s that can be reckoned with: correct it", orWhole(wrongType.Field), wrongType.Value[len("number "):], kindOf(wrongType.Type))
	case isType:
		return fmt.Errorf("%s is %s where %s is wanted: correct it", orWhole(wrongType.Field), article(wrongType.Value), article(kindOf(wrongType.Type)))
	case errors.As(err, &syntax):
		return fmt.Errorf("not JSON at byte %d: %w", syntax.Offset, err)
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return errors.New("the JSON ends too early: the file is empty or cut short")
	}
	return err
}

func orWhole(path string) string {
	if path == "" {
		return "the file"
	}
	return path
}

func kindOf(t reflect.Type) string {
	switch t.Kind() {
	case reflect.String:
		return "text"
	case reflect.Bool:
		return "true or false"
	case reflect.Slice, reflect.Array:
		return "list"
	case reflect.Struct, reflect.Map:
		return "object"
	case reflect.Float32, reflect.Float64:
		return "number"
	}
	return "whole number"
}

var (
	jsonReader = reflect.TypeFor[json.Unmarshaler]()
	textReader = reflect.TypeFor[encoding.TextUnmarshaler]()
)

// known compares the names in data with the fields of t, all the way down.
// Types that read themselves are left to do so.
func known(data []byte, t reflect.Type, path string) error {
	if string(bytes.TrimSpace(data)) == "null" && t.Kind() != reflect.Pointer {
		return fmt.Errorf("%s is null: write a value", orWhole(path))
	}
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if p := reflect.PointerTo(t); p.Implements(jsonReader) || p.Implements(textReader) {
		return nil
	}
	switch t.Kind() {
	case reflect.Struct:
		return knownFields(data, t, path)
	case reflect.Slice, reflect.Array:
		var parts []json.RawMessage
		if json.Unmarshal(data, &parts) != nil {
			return nil // the decoder proper reports it
		}
		for i, part := range parts {
			if err := known(part, t.Elem(), fmt.Sprintf("%s[%d]", path, i)); err != nil {
				return err
			}
		}
	}
	return nil
}

func knownFields(data []byte, t reflect.Type, path string) error {
	var parts map[string]json.RawMessage
	if json.Unmarshal(data, &parts) != nil {
		return nil // the decoder proper reports it
	}
	fields := map[string]reflect.Type{}
	gatherFields(t, fields)
	// Sorted, so that the first complaint about a file is the same at every reading.
	for _, name := range slices.Sorted(maps.Keys(parts)) {
		at := strings.TrimPrefix(path+"."+name, ".")
		field, ok := fields[name]
		if !ok {
			return fmt.Errorf("%s is not known to this version: correct the name, take it out, or open the file with a newer Undercoat", at)
		}
		if err := known(parts[name], field, at); err != nil {
			return err
		}
	}
	return nil
}

func gatherFields(t reflect.Type, into map[string]reflect.Type) {
	for _, f := range reflect.VisibleFields(t) {
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name != "" && name != "-" && f.IsExported() {
			into[name] = f.Type
		}
	}
}

func article(what string) string {
	switch {
	case strings.HasPrefix(what, "true"):
		return what
	case strings.HasPrefix(what, "a") || strings.HasPrefix(what, "o"):
		return "an " + what
	}
	return "a " + what
}
