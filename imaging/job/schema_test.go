package job_test

import (
	"bytes"
	"encoding"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
)

// validator holds documents to the published schema, as any program could.
func validator(t *testing.T) func([]byte) error {
	t.Helper()
	text, err := jsonschema.UnmarshalJSON(bytes.NewReader(job.Schema()))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("job.json", text))
	s, err := c.Compile("job.json")
	require.NoError(t, err)
	return func(data []byte) error {
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
		if err != nil {
			return err
		}
		return s.Validate(doc)
	}
}

func TestTheSchemaTakesWhatTheProgramWrites(t *testing.T) {
	valid := validator(t)
	alone := demo(t).Document.WithoutPicture()
	alone.Lettering = nil
	version1, err := job.Read(filepath.Join("..", "..", "testdata", "jobs", "version-1.undercoat"))
	require.NoError(t, err)
	for name, d := range map[string]job.Document{"demo": demo(t).Document, "without a picture": alone, "once of version 1": version1.Document} {
		t.Run(name, func(t *testing.T) {
			data, err := d.JSON()
			require.NoError(t, err)
			require.NoError(t, valid(data))
		})
	}
}

func TestTheSchemaRefusesWhatTheProgramDoes(t *testing.T) {
	valid := validator(t)
	data, err := demo(t).Document.JSON()
	require.NoError(t, err)
	for _, c := range []struct{ old, now string }{
		{`"undercoat-job"`, `"shopping-list"`},
		{`"version": 2`, `"version": 3`},
		{`"unit": "mm"`, `"unit": "ell"`},
		{`"one_way"`, `"other_way"`},
		{`"left": 6,`, ``},
		{`"quarter_turns": 0`, `"quarter_turns": 4`},
		{`"quarter_turns": 0`, `"quarter_turns": "0"`},
		{`"power_percent": 60`, `"power_percent": 130`},
		{`"kind": "floyd-steinberg"`, `"kind": "magic"`},
		{`"under_transparency": "#ffffff"`, `"under_transparency": "white"`},
	} {
		t.Run(c.now+" for "+c.old, func(t *testing.T) {
			changed := bytes.Replace(data, []byte(c.old), []byte(c.now), 1)
			require.NotEqual(t, string(data), string(changed))
			require.Error(t, valid(changed))
			_, err := job.ParseDocument(changed)
			require.Error(t, err)
		})
	}
}

// schemaPaths are the names that a part of the schema knows, with their paths.
func schemaPaths(root, part map[string]any, at string, into map[string]bool) {
	if ref, ok := part["$ref"].(string); ok {
		name := strings.TrimPrefix(ref, "#/$defs/")
		part = root["$defs"].(map[string]any)[name].(map[string]any)
	}
	if items, ok := part["items"].(map[string]any); ok {
		schemaPaths(root, items, at+"[]", into)
	}
	properties, _ := part["properties"].(map[string]any)
	for name, inner := range properties {
		path := at + "." + name
		into[path] = true
		schemaPaths(root, inner.(map[string]any), path, into)
	}
}

// typePaths are the names that a type is written with, with their paths. A type
// that writes itself is asked to.
func typePaths(t *testing.T, typ reflect.Type, at string, into map[string]bool) {
	t.Helper()
	if typ.Kind() == reflect.Pointer {
		typ = typ.Elem()
	}
	v := reflect.New(typ).Interface()
	if _, ok := v.(encoding.TextMarshaler); ok {
		return
	}
	if _, ok := v.(json.Marshaler); ok {
		data, err := json.Marshal(v)
		require.NoError(t, err)
		var object map[string]any
		if json.Unmarshal(data, &object) == nil {
			for name := range object {
				into[at+"."+name] = true
			}
		}
		return
	}
	switch typ.Kind() {
	case reflect.Slice, reflect.Array:
		typePaths(t, typ.Elem(), at+"[]", into)
	case reflect.Struct:
		for _, f := range reflect.VisibleFields(typ) {
			if name, _, _ := strings.Cut(f.Tag.Get("json"), ","); name != "" && name != "-" {
				into[at+"."+name] = true
				typePaths(t, f.Type, at+"."+name, into)
			}
		}
	}
}

func TestTheSchemaKnowsEveryFieldAndNoOther(t *testing.T) {
	var root map[string]any
	require.NoError(t, json.Unmarshal(job.Schema(), &root))
	told, has := map[string]bool{}, map[string]bool{}
	schemaPaths(root, root, "", told)
	typePaths(t, reflect.TypeFor[job.Document](), "", has)
	require.Greater(t, len(has), 100)
	require.Equal(t, slices.Sorted(maps.Keys(has)), slices.Sorted(maps.Keys(told)))
	require.EqualValues(t, job.Version, root["properties"].(map[string]any)["version"].(map[string]any)["const"])
	require.Equal(t, fmt.Sprintf("urn:undercoat:job:%d", job.Version), root["$id"])
}

func TestTheSchemaIsNotTheCallersToChange(t *testing.T) {
	job.Schema()[0] = 'x'
	onDisk, err := os.ReadFile("schema.json")
	require.NoError(t, err)
	require.Equal(t, string(onDisk), string(job.Schema()))
}
