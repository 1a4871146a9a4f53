package job

import (
	_ "embed"
	"slices"
)

//go:embed schema.json
var schema []byte

// Schema is the JSON Schema, draft 2020-12, of the document that a job's file
// holds as job.json. It describes what this version writes; [ParseDocument] reads
// earlier versions too, and holds a document to more than a schema can say.
func Schema() []byte { return slices.Clone(schema) }
