// Package proof predicts the look of the burned panel before it is burned.
//
// Start with [NewTintTable]: 256 even tints, each screened, exposed and shown
// through, as mean looks. [TintTable.Paint] is the instant proof of a picture (one
// look-up a pixel), [TintTable.With] the table after a change of power or
// paint, [TintTable.Even] the tone correction that makes equal steps in the
// picture equal steps in L*. [Exact] is the proof of the very dots that will be
// burned; [Loupe], [CoreAt], [Distant], [Strip] and the [Variation]s look at it
// more closely, from further away, and under other settings.
//
// # Values
//
// Tints are the wanted share of burned dots, 0..65535. Looks are linear light,
// 0..1; every mean over area is taken in linear light, over the field of doses and
// never at the mean dose, because a beam narrower than the pitch leaves a strong
// ripple. Pictures that come out are stored sRGB, opaque. Doses are J/cm2, of one
// pass, several passes folded in.
//
// # Limits
//
// A proof knows what the stack's curve knows: with an uncalibrated curve colours
// and depth are a guess, and whoever shows a proof must say so. Glare, texture and
// the wall's light are left out.
package proof
