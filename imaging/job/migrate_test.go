package job_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
)

func TestAJobOfVersionOneOpensAsItWas(t *testing.T) {
	j, err := job.Read(filepath.Join("..", "..", "testdata", "jobs", "version-1.undercoat"))
	require.NoError(t, err)
	d := j.Document
	require.Equal(t, job.Version, d.Version)
	require.Equal(t, "version one", d.Name)
	require.Equal(t, picture.Tone{Mid: 0.25, Contrast: -0.5}, d.Picture.Tone)
	require.Equal(t, job.TonesLight, d.Picture.Tones)
	require.Equal(t, job.MatchLightness, d.Match)
	again, err := d.JSON()
	require.NoError(t, err)
	back, err := job.ParseDocument(again)
	require.NoError(t, err)
	require.Equal(t, d, back)
	_, h := prepared(t, j)
	require.Equal(t, "version one", h.Note.Job)
}

func TestAnEarlierVersionIsReadAsStrictly(t *testing.T) {
	_, err := job.ParseDocument([]byte(`{"kind":"undercoat-job","version":1,"picture":{"mid_tone":"dark"}}`))
	require.ErrorContains(t, err, "picture.tone.mid_tone")
	_, err = job.ParseDocument([]byte(`{"kind":"undercoat-job","version":1,"picture":7}`))
	require.ErrorContains(t, err, "picture")
	_, err = job.ParseDocument([]byte(`{"kind":"undercoat-job","version":0}`))
	require.Error(t, err)
}
