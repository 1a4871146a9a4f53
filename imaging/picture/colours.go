package picture

import (
	"context"
	"fmt"
)

// facts is what the bytes before the pixels tell.
type facts struct {
	Header
	channels     int      // of the stored colours: 1, 3 or 4 (inks)
	profile      []byte   // the embedded ICC profile; nil: none
	profileFault error    // why an embedded profile could not be had
	stated       *stated  // what a file without a profile states otherwise; nil: nothing
	opened       *profile // the profile, once readColours has found it good
}

// stated is a space that a file states in numbers rather than by a profile.
type stated struct {
	name  string
	space func() (*space, error)
}

const asSRGB = "its colours are read as sRGB"

// readColours settles what the values are read through, in the order profile,
// then statement, then sRGB.
func (t *facts) readColours() {
	if t.profile == nil && t.profileFault == nil {
		if t.stated != nil {
			t.Profile = t.stated.name
		} else if t.channels == 4 && t.ProfileNote == "" {
			t.ProfileNote = "the picture is in inks (CMYK) without a colour profile: they are turned to colours by plain subtraction, which may look harsh"
		}
		return
	}
	p, err := (*profile)(nil), t.profileFault
	if err == nil {
		p, err = openProfile(t.profile, t.channels)
	}
	if err != nil {
		t.setAside(err)
		return
	}
	t.opened, t.Profile = p, p.name
	t.MemoryBytes += p.memory(len(t.profile))
}

// setAside notes that the profile cannot be followed.
func (t *facts) setAside(err error) {
	instead := asSRGB
	if t.channels == 4 {
		instead = "its inks are turned to colours by plain subtraction"
	}
	t.opened, t.Profile = nil, ""
	t.ProfileNote = fmt.Sprintf("the picture's colour profile cannot be followed (%v): %s", err, instead)
}

// colours works out the space. Only the end of the context is an error: a profile
// that fails on the way is set aside with a note.
func (t *facts) colours(ctx context.Context) (*space, error) {
	var s *space
	var err error
	switch {
	case t.opened != nil:
		s, err = t.opened.space(ctx)
	case t.stated != nil && t.profile == nil && t.profileFault == nil:
		s, err = t.stated.space()
	default:
		return plainSRGB(), nil
	}
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err != nil {
		t.setAside(err)
		return plainSRGB(), nil
	}
	return s, nil
}
