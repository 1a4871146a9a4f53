// Package export writes what a job hands off: the raster the machine is sent,
// the proof, and the note that says where the raster goes on the panel.
//
// Start with [NewSet] to write a whole hand-off folder, or with [WriteFile] for
// one file. Inside them, [WriteRaster] writes dots as a one-bit PNG (black is
// burned), [WriteProof] writes a picture in stored sRGB values as a PNG that
// says so, and [NewNote] makes the placement note, whose JSON and plain text are
// two forms of one thing. A [RasterWriter] takes the dots row by row, so that a
// raster need never be in memory as a whole.
//
// Lengths are in millimetres, places are measured from the panel's centre with
// x to the right and y up. The same input gives the same bytes each time.
//
// Files appear under their names only when they are complete: they are written
// beside their place under a hidden name, synced to disk and then renamed. A
// file or folder that could not be written is reported as a [*WriteError]; an
// error met while making the contents is passed on as it came.
package export
