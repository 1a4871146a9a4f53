package job

import (
	"fmt"
	"maps"
	"path/filepath"

	"undercoat/imaging/burn"
)

// Finished is the record of a panel: how it was burned, how it looks beside its proof,
// and what its maker thought of it. The photograph is kept in the job.
type Finished struct {
	Photo       string       `json:"photo"`          // the file it came from, for people
	SHA256      string       `json:"sha256"`         // of its bytes, in hex
	Date        string       `json:"date,omitempty"` // year-month-day
	Setting     burn.Setting `json:"setting"`
	MeanDE00    float64      `json:"mean_de00"`   // to the proof
	DoseFactor  float64      `json:"dose_factor"` // that it looks most like
	DoseLnSD    float64      `json:"dose_ln_sd"`
	Words       []string     `json:"words,omitempty"`
	Remark      string       `json:"remark,omitempty"`
	CloserPower float64      `json:"closer_power_percent,omitempty"`
}

// maxFinished bounds the panels that a job remembers.
const maxFinished = 50

func (d Document) finishedError() error {
	if len(d.Finished) > maxFinished {
		return fmt.Errorf("%d panels are too many: a job remembers %d", len(d.Finished), maxFinished)
	}
	for i, f := range d.Finished {
		switch {
		case len(f.SHA256) != 64:
			return fmt.Errorf("panel %d: sha256 %q is not a checksum: record the panel again", i+1, f.SHA256)
		case !(f.DoseFactor > 0) || !(f.DoseLnSD >= 0) || !(f.MeanDE00 >= 0):
			return fmt.Errorf("panel %d: dose_factor, dose_ln_sd and mean_de00 must not be below 0: record the panel again", i+1)
		}
	}
	return nil
}

// WithFinished is the job with one more finished panel and its photograph.
func (j *Job) WithFinished(f Finished, photo []byte) (*Job, error) {
	f.SHA256, f.Photo = Checksum(photo), filepath.Base(f.Photo)
	out := *j
	out.Document = j.Document.Clone()
	out.Document.Finished = append(out.Document.Finished, f)
	out.Photos = maps.Clone(j.Photos)
	if out.Photos == nil {
		out.Photos = map[string][]byte{}
	}
	out.Photos[f.SHA256] = photo
	return &out, out.Document.Validate()
}
