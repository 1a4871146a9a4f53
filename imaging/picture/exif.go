package picture

import "encoding/binary"

// directory is the first directory of a TIFF block: of a TIFF file, or of the
// block that an EXIF segment holds. Whatever is missing or damaged is not there.
// Source: TIFF 6.0, Adobe 1992, section 2.
type directory struct {
	block   []byte
	order   binary.ByteOrder
	entries []byte
}

const ifdEntry = 12

// Types of entries. Source: TIFF 6.0, Adobe 1992, section 2, page 15.
const (
	typeByte      = 1
	typeShort     = 3
	typeLong      = 4
	typeUndefined = 7
)

var typeBytes = map[uint16]uint64{typeByte: 1, typeShort: 2, typeLong: 4, typeUndefined: 1}

func firstDirectory(block []byte) directory {
	d := directory{block: block}
	if len(block) < 8 {
		return d
	}
	switch string(block[:4]) {
	case "II*\x00":
		d.order = binary.LittleEndian
	case "MM\x00*":
		d.order = binary.BigEndian
	default:
		return d
	}
	start := uint64(d.order.Uint32(block[4:]))
	if start+2 > uint64(len(block)) {
		return d
	}
	d.entries = block[start+2:]
	count := int(d.order.Uint16(block[start:]))
	d.entries = d.entries[:ifdEntry*min(count, len(d.entries)/ifdEntry)]
	return d
}

// find is the type and the values of an entry, each value in the block's order. A
// nil slice stands for an entry that is not there or reaches past the block.
func (d directory) find(tag uint16) (kind uint16, values []byte) {
	for e := d.entries; len(e) >= ifdEntry; e = e[ifdEntry:] {
		if d.order.Uint16(e) != tag {
			continue
		}
		kind = d.order.Uint16(e[2:])
		size := typeBytes[kind] * uint64(d.order.Uint32(e[4:]))
		if size <= 4 {
			return kind, e[8 : 8+size]
		}
		at := uint64(d.order.Uint32(e[8:]))
		if at+size > uint64(len(d.block)) {
			return kind, nil
		}
		return kind, d.block[at : at+size]
	}
	return 0, nil
}

// numbers are the values of an entry of whole numbers.
func (d directory) numbers(tag uint16) []uint32 {
	kind, values := d.find(tag)
	var out []uint32
	switch kind {
	case typeByte:
		for _, v := range values {
			out = append(out, uint32(v))
		}
	case typeShort:
		for ; len(values) >= 2; values = values[2:] {
			out = append(out, uint32(d.order.Uint16(values)))
		}
	case typeLong:
		for ; len(values) >= 4; values = values[4:] {
			out = append(out, d.order.Uint32(values))
		}
	}
	return out
}

// number is the first of an entry's numbers, or what it stands for when absent.
func (d directory) number(tag uint16, absent uint32) uint32 {
	if n := d.numbers(tag); len(n) > 0 {
		return n[0]
	}
	return absent
}

// tagOrientation is a single SHORT.
// Source: JEITA CP-3451C (Exif 2.3), 4.6.4 A: tag 274, type SHORT, count 1.
const tagOrientation = 0x0112

// orientation is 1..8. Whatever is missing, damaged or reserved gives 1, as shown
// without it.
func (d directory) orientation() int {
	kind, values := d.find(tagOrientation)
	if kind != typeShort || len(values) != 2 {
		return 1
	}
	if v := d.order.Uint16(values); v >= 1 && v <= 8 {
		return int(v)
	}
	return 1
}

// exifOrientation finds the orientation, 1..8, in the TIFF block of an EXIF
// segment.
func exifOrientation(block []byte) int { return firstDirectory(block).orientation() }
