package picture

import (
	"encoding/binary"
	"errors"
	"fmt"
)

// maxProfile bounds an embedded profile. Those of presses reach some megabytes.
const maxProfile = 8 << 20

// Layout of a profile. Source: ICC.1:2022, 7.2 (header), 7.3 (tag table).
const (
	iccHeader    = 128
	iccVersionAt = 8
	iccClassAt   = 12
	iccColoursAt = 16
	iccWhiteAt   = 68
	iccTagEntry  = 12
	iccMostTags  = 256
)

// maxTable is the most entries of a curve held as a table: what lut16Type allows,
// and more than any profile in common use has for its other curves. The library
// that reads them takes the square of it in time for a curve that is not monotone.
// Source: ICC.1:2022, 10.10 (lut16Type: 2 to 4096 entries).
const maxTable = 4096

var errProfileShort = errors.New("it ends too early")

// checkProfile refuses what the library that reads profiles would set memory aside
// for, or spend time on, without a look at how long the profile is.
func checkProfile(data []byte) error {
	if len(data) > maxProfile {
		return fmt.Errorf("its %d bytes are more than the %d allowed", len(data), maxProfile)
	}
	if len(data) < iccHeader+4 || uint64(binary.BigEndian.Uint32(data)) > uint64(len(data)) {
		return errProfileShort
	}
	if string(data[36:40]) != "acsp" {
		return errors.New("it is no ICC profile")
	}
	if v := data[iccVersionAt]; v < 2 || v > 4 {
		return fmt.Errorf("its version %d is outside 2..4", v)
	}
	switch class := string(data[iccClassAt : iccClassAt+4]); class {
	case "scnr", "mntr", "prtr", "spac":
	default:
		return fmt.Errorf("its class %q is not that of a picture", class)
	}
	tags := uint64(binary.BigEndian.Uint32(data[iccHeader:]))
	table := iccHeader + 4 + iccTagEntry*tags
	if tags > iccMostTags || table > uint64(len(data)) {
		return fmt.Errorf("it claims %d entries, which its %d bytes cannot hold", tags, len(data))
	}
	for i := range tags {
		e := data[iccHeader+4+iccTagEntry*i:]
		at, size := uint64(binary.BigEndian.Uint32(e[4:])), uint64(binary.BigEndian.Uint32(e[8:]))
		if at < table || at+size > uint64(len(data)) {
			return errProfileShort
		}
		if err := checkTag(data[at : at+size]); err != nil {
			return fmt.Errorf("entry %q: %w", e[:4], err)
		}
	}
	return nil
}

// checkTag looks at the tags that hold curves and tables; the others are small.
func checkTag(tag []byte) error {
	if len(tag) < 8 {
		return nil // too short for any type; the library says so where it matters
	}
	switch string(tag[:4]) {
	case "curv", "para":
		_, err := curveLength(tag)
		return err
	case "mft1", "mft2":
		return checkTable(tag)
	case "mAB ", "mBA ":
		return checkStages(tag)
	}
	return nil
}

// curveLength is the bytes that a curve takes at the start of a block.
// Source: ICC.1:2022, 10.6 (curveType), 10.18 (parametricCurveType).
func curveLength(block []byte) (int, error) {
	if len(block) < 12 {
		return 0, errProfileShort
	}
	switch string(block[:4]) {
	case "curv":
		n := uint64(binary.BigEndian.Uint32(block[8:]))
		if n > maxTable {
			return 0, fmt.Errorf("a curve of %d entries is more than the %d allowed", n, maxTable)
		}
		if 12+2*n > uint64(len(block)) {
			return 0, errProfileShort
		}
		return 12 + 2*int(n), nil
	case "para":
		params := []int{1, 3, 4, 5, 7}
		kind := int(binary.BigEndian.Uint16(block[8:]))
		if kind >= len(params) {
			return 0, fmt.Errorf("a curve of kind %d is outside 0..%d", kind, len(params)-1)
		}
		if 12+4*params[kind] > len(block) {
			return 0, errProfileShort
		}
		return 12 + 4*params[kind], nil
	}
	return 0, fmt.Errorf("%q is no curve", block[:4])
}

// checkChannels keeps a table to what pictures have: the library takes a power of
// the number of channels.
func checkChannels(in, out byte) error {
	if in < 1 || in > 4 || out < 1 || out > 4 {
		return fmt.Errorf("a table from %d channels to %d is outside 1..4", in, out)
	}
	return nil
}

// checkTable looks at a table of the older kinds.
// Source: ICC.1:2022, 10.10 (lut16Type), 10.11 (lut8Type).
func checkTable(tag []byte) error {
	if len(tag) < 52 {
		return errProfileShort
	}
	if err := checkChannels(tag[8], tag[9]); err != nil || string(tag[:4]) == "mft1" {
		return err
	}
	for _, at := range []int{48, 50} {
		if n := binary.BigEndian.Uint16(tag[at:]); n < 2 || n > maxTable {
			return fmt.Errorf("a curve of %d entries is outside 2..%d", n, maxTable)
		}
	}
	return nil
}

// checkStages looks at a table of the newer kinds, which point at their curves,
// matrix and table. Source: ICC.1:2022, 10.12 (lutAToBType), 10.13 (lutBToAType).
func checkStages(tag []byte) error {
	if len(tag) < 32 {
		return errProfileShort
	}
	in, out := tag[8], tag[9]
	if err := checkChannels(in, out); err != nil {
		return err
	}
	// The B curves stand on the side of the connection space, the A curves on the other.
	atB, atM, atCLUT, atA := tag[12:16], tag[20:24], tag[24:28], tag[28:32]
	onB, onA := int(out), int(in)
	if string(tag[:4]) == "mBA " {
		onB, onA = onA, onB
	}
	for _, c := range []struct {
		at    []byte
		count int
	}{{atB, onB}, {atM, onB}, {atA, onA}} {
		if err := checkCurves(tag, binary.BigEndian.Uint32(c.at), c.count); err != nil {
			return err
		}
	}
	at := uint64(binary.BigEndian.Uint32(atCLUT))
	if at == 0 {
		return nil
	}
	if at+20 > uint64(len(tag)) {
		return errProfileShort
	}
	return checkGrid(tag[at:at+20], int(in))
}

func checkCurves(tag []byte, at uint32, count int) error {
	if at == 0 {
		return nil
	}
	for next := uint64(at); count > 0; count-- {
		if next > uint64(len(tag)) {
			return errProfileShort
		}
		n, err := curveLength(tag[next:])
		if err != nil {
			return err
		}
		next += uint64(n+3) / 4 * 4
	}
	return nil
}

// checkGrid looks at the head of a table: the nodes of each channel, then the
// bytes of a value. The library reads a table of uneven sides wrongly.
func checkGrid(head []byte, in int) error {
	for _, n := range head[1:in] {
		if n != head[0] {
			return fmt.Errorf("its table has sides of %v nodes, which differ", head[:in])
		}
	}
	if bytes := head[16]; bytes != 1 && bytes != 2 {
		return fmt.Errorf("its table has values of %d bytes, not 1 or 2", bytes)
	}
	return nil
}
