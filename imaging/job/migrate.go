package job

import (
	"encoding/json"
	"fmt"
)

// migrations take a document of version 1, 2, ... to the next one, as JSON objects.
var migrations = []func(doc map[string]any){toneFromPicture}

// migrate brings the JSON of a document of an earlier version up to date. What it
// does not find where it should be it leaves, for the strict reader to name.
func migrate(data []byte, version int) ([]byte, error) {
	if version < 1 || version >= Version {
		return data, nil
	}
	var doc map[string]any
	if err := json.Unmarshal(data, &doc); err != nil {
		return nil, fmt.Errorf("this is not the document of a job (%w): use a copy of the file", err)
	}
	for _, step := range migrations[version-1:] {
		step(doc)
	}
	doc["version"] = Version
	return json.Marshal(doc)
}

// toneFromPicture: version 2 has the middle tones and the contrast, with much
// besides, in the picture's tone, and says what a picture is matched by.
func toneFromPicture(doc map[string]any) {
	doc["match"] = string(MatchLightness)
	picture, ok := doc["picture"].(map[string]any)
	if !ok {
		return
	}
	tone := map[string]any{}
	for _, name := range []string{"mid_tone", "contrast"} {
		if v, ok := picture[name]; ok {
			tone[name] = v
			delete(picture, name)
		}
	}
	picture["tone"] = tone
}
