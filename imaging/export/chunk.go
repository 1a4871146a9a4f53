package export

import (
	"encoding/binary"
	"hash/crc32"
	"math"

	"undercoat/layout"
)

// pngSignature opens every PNG file.
// Source: W3C, 2025, Portable Network Graphics (PNG) Specification (Third Edition), clause 5.2.
const pngSignature = "\x89PNG\r\n\x1a\n"

// appendChunk appends one PNG chunk to dst: length, kind, data, and the CRC-32 of
// kind and data. kind is four letters, data at most 2^31-1 bytes.
//
// Source: W3C, 2025, PNG Specification (Third Edition), clauses 5.3 and 5.5.
func appendChunk(dst []byte, kind string, data []byte) []byte {
	if len(kind) != 4 || len(data) > math.MaxInt32 {
		panic("export: a PNG chunk needs a kind of four letters and at most 2^31-1 bytes")
	}
	dst = binary.BigEndian.AppendUint32(dst, uint32(len(data)))
	start := len(dst)
	dst = append(dst, kind...)
	dst = append(dst, data...)
	return binary.BigEndian.AppendUint32(dst, crc32.ChecksumIEEE(dst[start:]))
}

// appendHeader appends IHDR: no interlace, the one compression and filter method.
//
// Source: W3C, 2025, PNG Specification (Third Edition), clause 11.2.1.
func appendHeader(dst []byte, cols, rows int, bitDepth, colourType byte) []byte {
	data := binary.BigEndian.AppendUint32(nil, uint32(cols))
	data = binary.BigEndian.AppendUint32(data, uint32(rows))
	return appendChunk(dst, "IHDR", append(data, bitDepth, colourType, 0, 0, 0))
}

// appendPhysical appends pHYs: so many dots to the metre, both ways.
//
// Source: W3C, 2025, PNG Specification (Third Edition), clause 11.3.4.3.
func appendPhysical(dst []byte, dotsPerMetre uint32) []byte {
	data := binary.BigEndian.AppendUint32(nil, dotsPerMetre)
	data = binary.BigEndian.AppendUint32(data, dotsPerMetre)
	const unitIsMetre = 1
	return appendChunk(dst, "pHYs", append(data, unitIsMetre))
}

// appendStoredSpace appends sRGB with the perceptual intent, and the gAMA of
// 45455 which stands for it with a reader that does not know sRGB.
//
// Source: W3C, 2025, PNG Specification (Third Edition), clauses 11.3.2.5 and 11.3.2.2.
func appendStoredSpace(dst []byte) []byte {
	const perceptual = 0
	dst = appendChunk(dst, "sRGB", []byte{perceptual})
	return appendChunk(dst, "gAMA", binary.BigEndian.AppendUint32(nil, 45455))
}

// DotsPerMetre is the nearest whole number of dots in a metre at this pitch, as
// written to a raster's pHYs chunk; the pitch is one that layout allows, 0.01 to 1 mm.
func DotsPerMetre(pitch layout.MM) int { return int(math.Round(1000 / float64(pitch))) }
