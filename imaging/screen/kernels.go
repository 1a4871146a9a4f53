package screen

// reach is how far to either side the widest kernel sends its errors, in dots.
const reach = 2

// kernel is a filter of error diffusion: the parts of a dot's error, in 1/of, that
// go to the dots after it. Here the rows run to the right; a row that runs to the
// left takes the mirror image. What is less than the whole is lost on purpose.
type kernel struct {
	of    int64
	ahead [reach]int64          // one dot on, two dots on
	below [2][2*reach + 1]int64 // one row down, two rows down: from two dots back to two dots on
}

// weights are the parts for one row.
type weights = [2*reach + 1]int64

// The published filters. The later ones went round as notes between programmers
// before any journal had them.
var (
	// R. W. Floyd and L. Steinberg, "An adaptive algorithm for spatial grey
	// scale", Proc. SID 17/2 (1976) 75-77.
	floydSteinbergKernel = kernel{16, [2]int64{7, 0}, [2]weights{{0, 3, 5, 1, 0}}}
	// J. F. Jarvis, C. N. Judice and W. H. Ninke, "A survey of techniques for the
	// display of continuous tone pictures on bilevel displays", Computer Graphics
	// and Image Processing 5/1 (1976) 13-40.
	jarvisJudiceNinkeKernel = kernel{48, [2]int64{7, 5}, [2]weights{{3, 5, 7, 5, 3}, {1, 3, 5, 3, 1}}}
	// P. Stucki, "MECCA - a multiple-error correction computation algorithm for
	// bilevel image hardcopy reproduction", IBM Research Report RZ1060 (1981).
	stuckiKernel = kernel{42, [2]int64{8, 4}, [2]weights{{2, 4, 8, 4, 2}, {1, 2, 4, 2, 1}}}
	// D. Burkes (1988): the first two rows of Stucki's.
	burkesKernel = kernel{32, [2]int64{8, 4}, [2]weights{{2, 4, 8, 4, 2}}}
	// F. Sierra (1989, 1990): three rows, two rows, and the least that will do.
	sierraKernel       = kernel{32, [2]int64{5, 3}, [2]weights{{2, 4, 5, 4, 2}, {0, 2, 3, 2, 0}}}
	sierraTwoRowKernel = kernel{16, [2]int64{4, 3}, [2]weights{{1, 2, 3, 2, 1}}}
	sierraLiteKernel   = kernel{4, [2]int64{2, 0}, [2]weights{{0, 1, 1, 0, 0}}}
	// B. Atkinson (1980s): three quarters of the error, the rest is lost.
	atkinsonKernel = kernel{8, [2]int64{1, 1}, [2]weights{{0, 1, 1, 1, 0}, {0, 0, 1, 0, 0}}}
)
