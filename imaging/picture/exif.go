package picture

import "encoding/binary"

// Source: JEITA CP-3451C (Exif 2.3), 4.6.4 A: tag 274, type SHORT, count 1;
// TIFF 6.0, Adobe 1992, section 2, for the block around it.
const (
	tagOrientation = 0x0112
	typeShort      = 3
	ifdEntry       = 12
)

// tiffOrientation finds the orientation, 1..8, in the TIFF block of an EXIF
// segment. Whatever is missing, damaged or reserved gives 1, as shown without it.
func tiffOrientation(block []byte) int {
	if len(block) < 8 {
		return 1
	}
	var order binary.ByteOrder
	switch string(block[:4]) {
	case "II*\x00":
		order = binary.LittleEndian
	case "MM\x00*":
		order = binary.BigEndian
	default:
		return 1
	}
	start := uint64(order.Uint32(block[4:]))
	if start+2 > uint64(len(block)) {
		return 1
	}
	entries := block[start+2:]
	count := int(order.Uint16(block[start:]))
	for range min(count, len(entries)/ifdEntry) {
		e := entries[:ifdEntry]
		entries = entries[ifdEntry:]
		if order.Uint16(e) != tagOrientation {
			continue
		}
		v := int(order.Uint16(e[8:]))
		if order.Uint16(e[2:]) != typeShort || order.Uint32(e[4:]) != 1 || v < 1 || v > 8 {
			return 1
		}
		return v
	}
	return 1
}
