// The inner loops of ToSize, four values at a time. They need no more than SSE2,
// which every processor of this kind has, and round where the plain loops in sums.go
// round: the results are the same to the last bit.

#include "textflag.h"

// func acrossFours(into *float32, fours int, padded *float32, first *int32, from int, weight *float32, taps int)
TEXT ·acrossFours(SB), NOSPLIT, $0-56
	MOVQ into+0(FP), DI
	MOVQ fours+8(FP), CX
	MOVQ padded+16(FP), SI
	MOVQ first+24(FP), R8
	MOVQ from+32(FP), AX
	MOVQ weight+40(FP), DX
	MOVQ taps+48(FP), BX
	SHLQ $2, AX
	SUBQ AX, SI            // where source pixel 0 would stand
	SHLQ $2, BX            // bytes of one pixel's weights
	LEAQ (BX)(BX*2), R13

pixels:
	MOVLQSX (R8), R9       // four pixels and their first taps
	MOVLQSX 4(R8), R10
	MOVLQSX 8(R8), R11
	MOVLQSX 12(R8), R12
	LEAQ (SI)(R9*4), R9
	LEAQ (SI)(R10*4), R10
	LEAQ (SI)(R11*4), R11
	LEAQ (SI)(R12*4), R12
	XORPS X8, X8           // the sums of pixels 0 and 1
	XORPS X9, X9           // and of 2 and 3
	XORQ AX, AX

taps:
	MOVUPS (R9)(AX*1), X0
	MOVUPS (DX), X4
	MULPS  X4, X0
	MOVUPS (R10)(AX*1), X1
	MOVUPS (DX)(BX*1), X5
	MULPS  X5, X1
	MOVUPS (R11)(AX*1), X2
	MOVUPS (DX)(BX*2), X6
	MULPS  X6, X2
	MOVUPS (R12)(AX*1), X3
	MOVUPS (DX)(R13*1), X7
	MULPS  X7, X3

	MOVAPS X0, X4          // first and second product, third and fourth
	SHUFPS $0x88, X1, X0
	SHUFPS $0xdd, X1, X4
	ADDPS  X4, X0
	MOVAPS X2, X5
	SHUFPS $0x88, X3, X2
	SHUFPS $0xdd, X3, X5
	ADDPS  X5, X2

	MOVAPS X0, X4          // and the two together, a pixel a lane
	SHUFPS $0x88, X2, X0
	SHUFPS $0xdd, X2, X4
	ADDPS  X4, X0

	CVTPS2PD X0, X1
	MOVHLPS  X0, X0
	CVTPS2PD X0, X2
	ADDPD    X1, X8
	ADDPD    X2, X9

	ADDQ $16, DX
	ADDQ $16, AX
	CMPQ AX, BX
	JLT  taps

	ADDQ     R13, DX
	CVTPD2PS X8, X0
	CVTPD2PS X9, X1
	MOVLHPS  X1, X0
	MOVUPS   X0, (DI)
	ADDQ     $16, DI
	ADDQ     $16, R8
	DECQ     CX
	JNZ      pixels
	RET

// func addFours(acc *float64, fours int, r0, r1, r2, r3, weight *float32)
TEXT ·addFours(SB), NOSPLIT, $0-56
	MOVQ acc+0(FP), DI
	MOVQ fours+8(FP), CX
	MOVQ r0+16(FP), R8
	MOVQ r1+24(FP), R9
	MOVQ r2+32(FP), R10
	MOVQ r3+40(FP), R11
	MOVQ weight+48(FP), DX
	MOVUPS (DX), X7
	MOVAPS X7, X4
	MOVAPS X7, X5
	MOVAPS X7, X6
	SHUFPS $0x00, X4, X4
	SHUFPS $0x55, X5, X5
	SHUFPS $0xaa, X6, X6
	SHUFPS $0xff, X7, X7
	XORQ AX, AX

values:
	MOVUPS (R8)(AX*1), X0
	MULPS  X4, X0
	MOVUPS (R9)(AX*1), X1
	MULPS  X5, X1
	MOVUPS (R10)(AX*1), X2
	MULPS  X6, X2
	MOVUPS (R11)(AX*1), X3
	MULPS  X7, X3
	ADDPS  X1, X0
	ADDPS  X3, X2
	ADDPS  X2, X0

	CVTPS2PD X0, X1
	MOVHLPS  X0, X0
	CVTPS2PD X0, X2
	MOVUPD   (DI)(AX*2), X3
	ADDPD    X1, X3
	MOVUPD   X3, (DI)(AX*2)
	MOVUPD   16(DI)(AX*2), X0
	ADDPD    X2, X0
	MOVUPD   X0, 16(DI)(AX*2)

	ADDQ $16, AX
	DECQ CX
	JNZ  values
	RET

DATA limits<>+0(SB)/8, $65535.0
DATA limits<>+8(SB)/8, $65535.0
DATA limits<>+16(SB)/8, $0.5
DATA limits<>+24(SB)/8, $0.5
DATA limits<>+32(SB)/8, $0x0000800000008000
DATA limits<>+40(SB)/8, $0x0000800000008000
DATA limits<>+48(SB)/8, $0x8000800080008000
DATA limits<>+56(SB)/8, $0x8000800080008000
GLOBL limits<>(SB), RODATA|NOPTR, $64

// func roundEights(into *uint16, eights int, acc *float64)
TEXT ·roundEights(SB), NOSPLIT, $0-24
	MOVQ into+0(FP), DI
	MOVQ eights+8(FP), CX
	MOVQ acc+16(FP), SI
	XORPS  X8, X8
	MOVUPD limits<>+0(SB), X9
	MOVUPD limits<>+16(SB), X10
	MOVOU  limits<>+32(SB), X11
	MOVOU  limits<>+48(SB), X12

eight:
	MOVUPD (SI), X0
	MOVUPD 16(SI), X1
	MOVUPD 32(SI), X2
	MOVUPD 48(SI), X3
	MAXPD  X8, X0
	MAXPD  X8, X1
	MAXPD  X8, X2
	MAXPD  X8, X3
	MINPD  X9, X0
	MINPD  X9, X1
	MINPD  X9, X2
	MINPD  X9, X3
	ADDPD  X10, X0
	ADDPD  X10, X1
	ADDPD  X10, X2
	ADDPD  X10, X3
	CVTTPD2PL X0, X0
	CVTTPD2PL X1, X1
	CVTTPD2PL X2, X2
	CVTTPD2PL X3, X3
	PUNPCKLQDQ X1, X0
	PUNPCKLQDQ X3, X2
	PSUBL  X11, X0         // packing is for signed values only
	PSUBL  X11, X2
	PACKSSLW X2, X0
	PXOR   X12, X0
	MOVOU  X0, (DI)
	ADDQ   $64, SI
	ADDQ   $16, DI
	DECQ   CX
	JNZ    eight
	RET
