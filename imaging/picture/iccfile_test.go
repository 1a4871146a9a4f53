package picture

import (
	"encoding/binary"
	"math"
)

// iccTag is one entry of a made-up profile.
type iccTag struct {
	name string
	body []byte
}

// iccFile builds a profile from its parts. Source of the layout: ICC.1:2022, 7.2, 7.3.
func iccFile(version byte, class, colours, pcs string, tags ...iccTag) []byte {
	be := binary.BigEndian
	tags = append([]iccTag{{"desc", iccText("made up")}, {"wtpt", iccXYZ(0.9642, 1, 0.8249)}}, tags...)
	head := make([]byte, 128)
	head[8] = version
	copy(head[12:], class)
	copy(head[16:], colours)
	copy(head[20:], pcs)
	copy(head[36:], "acsp")
	copy(head[68:], iccXYZ(0.9642, 1, 0.8249)[8:])
	table := be.AppendUint32(nil, uint32(len(tags)))
	var data []byte
	at := 128 + 4 + 12*len(tags)
	for _, t := range tags {
		table = append(table, t.name...)
		table = be.AppendUint32(table, uint32(at+len(data)))
		table = be.AppendUint32(table, uint32(len(t.body)))
		data = append(data, t.body...)
		for len(data)%4 != 0 {
			data = append(data, 0)
		}
	}
	out := append(append(head, table...), data...)
	be.PutUint32(out, uint32(len(out)))
	return out
}

func iccText(words string) []byte {
	out := binary.BigEndian.AppendUint32([]byte("desc\x00\x00\x00\x00"), uint32(len(words)+1))
	return append(append(out, words...), make([]byte, 1+78)...)
}

func s15Fixed16(out []byte, v float64) []byte {
	return binary.BigEndian.AppendUint32(out, uint32(int32(math.Round(v*65536))))
}

func iccXYZ(x, y, z float64) []byte {
	return s15Fixed16(s15Fixed16(s15Fixed16([]byte("XYZ \x00\x00\x00\x00"), x), y), z)
}

// iccGamma is a pure power.
func iccGamma(g float64) []byte {
	return binary.BigEndian.AppendUint16([]byte("curv\x00\x00\x00\x00\x00\x00\x00\x01"), uint16(math.Round(g*256)))
}

// iccTable is a curve of n entries.
func iccTable(n int, f func(v float64) float64) []byte {
	out := binary.BigEndian.AppendUint32([]byte("curv\x00\x00\x00\x00"), uint32(n))
	for i := range n {
		out = binary.BigEndian.AppendUint16(out, uint16(math.Round(65535*f(float64(i)/float64(n-1)))))
	}
	return out
}

// iccPara is a parametric curve; its kind follows from the number of parameters.
func iccPara(p ...float64) []byte {
	kind := map[int]uint16{1: 0, 3: 1, 4: 2, 5: 3, 7: 4}[len(p)]
	out := binary.BigEndian.AppendUint16([]byte("para\x00\x00\x00\x00"), kind)
	out = append(out, 0, 0)
	for _, v := range p {
		out = s15Fixed16(out, v)
	}
	return out
}

// Columns of matrix profiles, adapted to D50.
var (
	// Source: derived from the primaries of Display P3 and D65 by Bradford, to five places.
	p3Columns = [3][3]float64{{0.51512, 0.24119, -0.00105}, {0.29198, 0.69224, 0.04188}, {0.15710, 0.06657, 0.78407}}
	// Source: derived from the primaries R .64 .33, G .21 .71, B .15 .06 and D65 likewise.
	wideColumns = [3][3]float64{{0.60974, 0.31111, 0.01947}, {0.20527, 0.62568, 0.06087}, {0.14919, 0.06321, 0.74456}}
)

func iccThreeLights(version byte, columns [3][3]float64, curve []byte) []byte {
	c := columns
	return iccFile(version, "mntr", "RGB ", "XYZ ",
		iccTag{"rXYZ", iccXYZ(c[0][0], c[0][1], c[0][2])}, iccTag{"rTRC", curve},
		iccTag{"gXYZ", iccXYZ(c[1][0], c[1][1], c[1][2])}, iccTag{"gTRC", curve},
		iccTag{"bXYZ", iccXYZ(c[2][0], c[2][1], c[2][2])}, iccTag{"bTRC", curve})
}

func iccGrey(version byte, pcs string, curve []byte) []byte {
	return iccFile(version, "mntr", "GRAY", pcs, iccTag{"kTRC", curve})
}

// iccInks is a profile of four inks with a table of two nodes a side: each ink takes
// away lightness.
func iccInks() []byte {
	out := []byte("mft1\x00\x00\x00\x00\x04\x03\x02\x00")
	for _, v := range []float64{1, 0, 0, 0, 1, 0, 0, 0, 1} {
		out = s15Fixed16(out, v)
	}
	straight := make([]byte, 256)
	for i := range straight {
		straight[i] = byte(i)
	}
	for range 4 {
		out = append(out, straight...)
	}
	for node := range 16 {
		inks := node&1 + node>>1&1 + node>>2&1 + node>>3&1
		out = append(out, byte(255-60*inks), 128, 128)
	}
	for range 3 {
		out = append(out, straight...)
	}
	return iccFile(2, "prtr", "CMYK", "Lab ", iccTag{"A2B0", out})
}
