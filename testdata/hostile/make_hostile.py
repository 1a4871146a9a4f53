#!/usr/bin/python3
"""Makes files that must be refused, and cases.json: how each is handed to the command
line, with which exit code, and what the message must say.

    python3 testdata/hostile/make_hostile.py

It needs nothing but Python, and makes the same files each time; only how zlib squeezes them may differ.
"""

import io
import json
import os
import struct
import warnings
import zipfile
import zlib

HERE = os.path.dirname(os.path.abspath(__file__))
FILES = os.path.join(HERE, "files")

cases = []

# What each message must say, besides being one sentence that tells what to do next.
SAYS = {
    "empty.jpg": "empty.jpg: the picture file is empty",
    "start-only.jpg": "start-only.jpg: the JPEG file ends too early, as if a copy had been broken off",
    "all-ff.jpg": "all-ff.jpg: the JPEG file ends too early, as if a copy had been broken off",
    "no-frame.jpg": "no-frame.jpg: the JPEG file is damaged",
    "no-tables.jpg": "no-tables.jpg: the JPEG file is damaged",
    "claims-65535.jpg": "claims-65535.jpg: the picture is 65535 x 65535 = 4295 million pixels, more than ",
    "claims-15000.jpg": "claims-15000.jpg: the JPEG file says 15000 x 15000 pixels but its 250 bytes cann",
    "no-width.jpg": "no-width.jpg: the picture is 0 x 64 pixels by its header, so the file is damaged",
    "no-height.jpg": "no-height.jpg: the picture is 64 x 0 pixels by its header, so the file is damage",
    "arithmetic.jpg": "arithmetic.jpg: the JPEG file uses a feature that is not read here",
    "twelve-bits.jpg": "twelve-bits.jpg: the JPEG file uses a feature that is not read here",
    "four-unnamed.jpg": "four-unnamed.jpg: the JPEG file has four channels and does not say what they sta",
    "cut-in-scan.jpg": "cut-in-scan.jpg: the JPEG file says 640 x 640 pixels but its 158 bytes cannot ho",
    "exif-of-65535.jpg": "exif-of-65535.jpg: the JPEG file is damaged",
    "signature-only.png": "signature-only.png: the PNG file ends too early, as if a copy had been broken of",
    "no-data.png": "no-data.png: the PNG file is damaged",
    "cut.png": "cut.png: the PNG file ends too early, as if a copy had been broken off",
    "bad-sum.png": "bad-sum.png: the PNG file is damaged",
    "zero.png": "zero.png: the PNG file is damaged",
    "claims-2e31.png": "claims-2e31.png: the PNG file uses a feature that is not read here",
    "claims-60000-one-bit.png": "claims-60000-one-bit.png: the picture is 60000 x 60000 = 3600 million pixels, mo",
    "claims-15000.png": "claims-15000.png: the PNG file says 15000 x 15000 pixels but its 84 bytes cannot",
    "no-palette.png": "no-palette.png: the PNG file is damaged",
    "colour-type-5.png": "colour-type-5.png: the PNG file uses a feature that is not read here",
    "depth-3.png": "depth-3.png: the PNG file uses a feature that is not read here",
    "filter-9.png": "filter-9.png: the PNG file is damaged",
    "rows-missing.png": "rows-missing.png: the PNG file is damaged",
    "not-deflated.png": "not-deflated.png: the PNG file is damaged",
    "chunk-of-2e31.png": "chunk-of-2e31.png: the PNG file ends too early, as if a copy had been broken off",
    "rows-bomb.png": "rows-bomb.png: the PNG file is damaged",
    "one-pixel.png": "one-pixel.png: the picture is 1 x 1 pixels and at least 16 x 16 are needed",
    "head-only.gif": "head-only.gif: the GIF file ends too early, as if a copy had been broken off",
    "no-frame.gif": "no-frame.gif: the GIF file holds no picture",
    "frame-outside.gif": "frame-outside.gif: the GIF file is damaged",
    "bad-codes.gif": "bad-codes.gif: the GIF file is damaged",
    "cut.webp": "cut.webp: the WebP file ends too early, as if a copy had been broken off",
    "claims-16384.webp": "claims-16384.webp: the WebP file ends too early, as if a copy had been broken of",
    "no-picture.webp": "no-picture.webp: the WebP file is damaged",
    "directory-outside.tif": "directory-outside.tif: the TIFF file ends too early, as if a copy had been broke",
    "directory-of-itself.tif": "directory-of-itself.tif: the TIFF file ends too early, as if a copy had been bro",
    "claims-2e31.tif": "claims-2e31.tif: the TIFF file is damaged",
    "strips-outside.tif": "strips-outside.tif: the TIFF file says 64 x 64 pixels but its 98 bytes cannot ho",
    "tag-of-2e32.tif": "tag-of-2e32.tif: the TIFF file says 64 x 64 pixels but its 50 bytes cannot hold ",
    "head-only.bmp": "head-only.bmp: the file holds text",
    "claims-2e31.bmp": "claims-2e31.bmp: the BMP file uses a feature that is not read here",
    "cut.bmp": "cut.bmp: the BMP file says 64 x 64 pixels but its 154 bytes cannot hold them",
    "drawing.svg": "drawing.svg: the file is an SVG drawing, which is not read here",
    "page.html": "page.html: the file holds text",
    "paper.pdf": "paper.pdf: the file is a PDF document, which is not read here",
    "phone.heic": "phone.heic: the file is a HEIC picture, which is not read here",
    "archive.zip.jpg": "archive.zip.jpg: the file is not one of JPEG, PNG, TIFF, WebP, GIF or BMP",
    "zeros.png": "zeros.png: the file is not one of JPEG, PNG, TIFF, WebP, GIF or BMP",
    "wide-letters.txt": "wide-letters.txt: the file is not one of JPEG, PNG, TIFF, WebP, GIF or BMP",
    "empty.json": "stack file: the JSON ends too early",
    "null.json": "stack file: the file is null",
    "list.json": "stack file: the file is an array where an object is wanted",
    "deep.json": "stack file: not JSON at byte 80001",
    "deep-lists.json": "stack file: not JSON at byte 10001",
    "two-objects.json": "stack file: more follows after the closing brace",
    "no-utf8.json": "stack file: ground.colour is missing",
    "another-kind.json": "stack file: kind is \"undercoat-machine\"",
    "later-version.json": "stack file: version is 99: this program reads version 1, a newer one may read th",
    "no-coats.json": "stack file: coats holds 0 coats",
    "hundreds-of-coats.json": "stack file: coats holds 500 coats",
    "no-colour.json": "stack file: colour \"red\" is not of the form #rrggbb",
    "endless-thickness.json": "stack file: coats.thickness_um is 1e999, which is no number",
    "colour-twice.json": "stack file: coats[0].colour stands there twice",
    "no-number.json": "stack file: not JSON at byte 124",
    "negative-dose.json": "stack file: curve.points[0].dose_j_per_cm2 is -20",
    "falling-curve.json": "stack file: curve.points[0].depth_um is 90",
    "one-point.json": "stack file: curve.points holds 1 points",
    "spread-of-two.json": "stack file: curve.spread holds 2 values for 1 coats",
    "word-for-number.json": "stack file: coats.thickness_um is a string where a number is wanted",
    "no-beam.json": "machine: beam_width_along_mm 0 is out of range",
    "wide-beam.json": "machine: beam_width_across_mm 1e+09 is out of range",
    "no-bed.json": "machine: bed_mm width 0 is out of range",
    "bed-of-three.json": "machine: list [1, 2, 3] has 3 numbers in place of 2",
    "strong.json": "machine: optical_power_w 1e+300 is out of range",
    "offset-100.json": "machine: power_offset_percent 100 is out of range",
    "backwards.json": "machine: run_up_mm -1 is out of range",
    "still.json": "machine: acceleration_mm_per_s2 0 is out of range",
    "empty.undercoat": "this is not an Undercoat job, or it is damaged",
    "no-zip.undercoat": "this is not an Undercoat job, or it is damaged",
    "no-parts.undercoat": "the job holds no job.json: it is damaged or was not written by Undercoat",
    "no-document.undercoat": "job.json: kind is \"\" where \"undercoat-job\" is wanted",
    "empty-document.undercoat": "job.json: the JSON ends too early",
    "another-kind.undercoat": "job.json: kind is \"x\" where \"undercoat-job\" is wanted",
    "later-version.undercoat": "job.json: version is 99 and this program knows up to 2",
    "no-fields.undercoat": "job.json: border_mm.left is missing",
    "bomb.undercoat": "the job's job.json is over 16 MiB",
    "twice.undercoat": "job.json: kind is \"\" where \"undercoat-job\" is wanted",
    "cut.undercoat": "this is not an Undercoat job, or it is damaged",
    "chart-empty.json": "chart file: kind is \"\": choose a file whose kind is \"undercoat-chart\"",
    "chart-no-swatches.json": "chart file: marks_mm do not span a rectangle",
    "readings-empty.json": "readings file: kind is \"\": choose a file whose kind is \"undercoat-readings\"",
    "readings-none.json": "readings file: swatches holds 0 readings",
    "readings-huge.json": "readings file: swatches holds 1001 readings",
    "raster of another kind": "grid 999 is out of range: choose 1 to 8 sub-cells a dot",
    "orders-no-head.csv": "column \"a\" is not known: use order, copies, angle, black, border, burns, contras",
    "orders-escaping.csv": "line 2, order ../../x: order",
    "no pitch": "pitch \"0\" is outside the range",
    "pitch no number": "pitch \"NaN\" does not start with a number",
    "endless dpi": "pitch \"1e-300dpi\" is not a plain number",
    "fine pitch on a huge panel": "makes 997601 million dots, more than 400 million",
    "no panel": "panel: size \"0x0mm\" has a side of no length",
    "endless panel": "panel: size \"1e400x1mm\": length \"1e400\" is not a plain number",
    "panel of nothing": "panel: size \"\": length \"\" is empty",
    "border wider than the panel": "border 200 mm left and 200 mm right leave nothing of a panel 300 mm wide",
    "negative border": "border \"-1mm\": length \"-1mm\" is negative",
    "border of three": "border \"1,2,3mm\" has 3 values",
    "no power": "power_percent 0 is out of range",
    "power over all": "power_percent 101 is out of range",
    "power no number": "power: \"NaN\" is not a share in percent",
    "no speed": "speed \"0\" is outside the range",
    "speed of light": "speed \"1e300mm/s\" is not a plain number",
    "no passes": "passes 0 is out of range: give 1 to 20 passes",
    "a billion passes": "passes 1e+09 is out of range",
    "no such screen": "screen: kind is \"velvet\": choose one of floyd-steinberg, beam-aware, blue-noise,",
    "a dot too long": "screen: shortest run of 99 dots is out of range",
    "odd matrix": "screen: bayer matrix of 7 dots is not known",
    "lines too fine": "screen: 1e+09 lines per cm at a pitch of 0.08 mm makes cells of 1.25e-07 dots",
    "letters too large": "text \"W\", size=1e9mm: length \"1e9mm\" is not a plain number",
    "letters without a size": "text \"W\", size=NaN: length \"NaN\" does not start with a number",
    "letters of nothing": "text is empty",
    "no such font": "there is no font \"none\"",
    "a hundred thousand letters": "text has 100000 letters",
    "letters that turn": "text \"A\", turn=1e400: turn \"1e400\"",
    "fade of nothing": "fade \"star\": write oval or rectangle, inset=, corner=, feather= or vignette=",
    "curve backwards": "curve point 2 at lightness 20 is less than 0.5 to the right of the point before,",
    "white below black": "picture: tone: white point 10 is outside 91 to 100",
}


def case(name, exit_code, *args):
    cases.append({"name": name, "exit": exit_code, "says": SAYS[name], "args": list(args)})


def write(name, data):
    with open(os.path.join(FILES, name), "wb") as f:
        f.write(data if isinstance(data, bytes) else data.encode())


def picture(name, data):
    write(name, data)
    case(name, 3, "new", "-o", "{out}/a.undercoat", "--picture", "{files}/" + name)


def stack(name, data):
    write(name, data if isinstance(data, (bytes, str)) else json.dumps(data))
    case(name, 3, "predict", "--stack", "{files}/" + name)


def machine(name, data):
    write(name, data if isinstance(data, (bytes, str)) else json.dumps(data))
    case(name, 3, "predict", "--machine", "{files}/" + name)


def job(name, data):
    write(name, data)
    case(name, 3, "check", "{files}/" + name)


def setting(name, *args):
    case(name, 3, "new", "-o", "{out}/a.undercoat", "--text", "A; size=10mm", *args)


# JPEG.

SOI, EOI = b"\xff\xd8", b"\xff\xd9"


def segment(mark, body):
    return bytes([0xFF, mark]) + struct.pack(">H", len(body) + 2) + body


def frame(mark, w, h, channels, precision=8):
    parts = b"".join(bytes([i + 1, 0x11, 0]) for i in range(channels))
    return segment(mark, struct.pack(">BHHB", precision, h, w, channels) + parts)


QUANT = segment(0xDB, b"\0" + b"\1" * 64)
HUFFMAN = segment(0xC4, b"\0" + b"\0\1" + b"\0" * 14 + b"\0") + segment(0xC4, b"\x10" + b"\0\1" + b"\0" * 14 + b"\0")


def scan(channels):
    return segment(0xDA, bytes([channels]) + b"".join(bytes([i + 1, 0]) for i in range(channels)) + b"\0\x3f\0")


def jpegs():
    picture("empty.jpg", b"")
    picture("start-only.jpg", SOI)
    picture("all-ff.jpg", SOI + b"\xff" * 5000)
    picture("no-frame.jpg", SOI + QUANT + EOI)
    picture("no-tables.jpg", SOI + frame(0xC0, 64, 64, 1) + scan(1) + b"\0" * 500 + EOI)
    picture("claims-65535.jpg", SOI + QUANT + HUFFMAN + frame(0xC0, 65535, 65535, 3) + scan(3) + b"\0" * 100 + EOI)
    picture("claims-15000.jpg", SOI + QUANT + HUFFMAN + frame(0xC2, 15000, 15000, 3) + scan(3) + b"\0" * 100 + EOI)
    picture("no-width.jpg", SOI + QUANT + HUFFMAN + frame(0xC0, 0, 64, 1) + scan(1) + EOI)
    picture("no-height.jpg", SOI + QUANT + HUFFMAN + frame(0xC0, 64, 0, 1) + scan(1) + EOI)
    picture("arithmetic.jpg", SOI + QUANT + frame(0xC9, 64, 64, 1) + scan(1) + b"\0" * 100 + EOI)
    picture("twelve-bits.jpg", SOI + QUANT + HUFFMAN + frame(0xC0, 64, 64, 1, 12) + scan(1) + b"\0" * 100 + EOI)
    picture("four-unnamed.jpg", SOI + QUANT + HUFFMAN + frame(0xC0, 64, 64, 4) + scan(4) + b"\0" * 300 + EOI)
    picture("cut-in-scan.jpg", SOI + QUANT + HUFFMAN + frame(0xC0, 640, 640, 1) + scan(1) + b"\0" * 20)
    exif = b"Exif\0\0II*\0\x08\0\0\0" + struct.pack("<H", 0xFFFF) + b"\xff" * 200
    picture("exif-of-65535.jpg", SOI + segment(0xE1, exif) + QUANT + EOI)


# PNG.

PNG = b"\x89PNG\r\n\x1a\n"


def chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def head(w, h, depth=8, colour=0, interlace=0):
    return chunk(b"IHDR", struct.pack(">IIBBBBB", w, h, depth, colour, 0, 0, interlace))


END = chunk(b"IEND", b"")


def pngs():
    rows = zlib.compress(b"\0" * (65 * 64))
    whole = PNG + head(64, 64) + chunk(b"IDAT", rows) + END
    picture("signature-only.png", PNG)
    picture("no-data.png", PNG + head(64, 64) + END)
    picture("cut.png", whole[:-30])
    picture("bad-sum.png", PNG + head(64, 64)[:-1] + b"\0" + chunk(b"IDAT", rows) + END)
    picture("zero.png", PNG + head(0, 0) + chunk(b"IDAT", rows) + END)
    picture("claims-2e31.png", PNG + head(0x7FFFFFFF, 0x7FFFFFFF, 16, 6) + chunk(b"IDAT", rows) + END)
    picture("claims-60000-one-bit.png", PNG + head(60000, 60000, 1) + chunk(b"IDAT", rows) + END)
    picture("claims-15000.png", PNG + head(15000, 15000, 16, 6) + chunk(b"IDAT", rows) + END)
    picture("no-palette.png", PNG + head(64, 64, 8, 3) + chunk(b"IDAT", rows) + END)
    picture("colour-type-5.png", PNG + head(64, 64, 8, 5) + chunk(b"IDAT", rows) + END)
    picture("depth-3.png", PNG + head(64, 64, 3) + chunk(b"IDAT", rows) + END)
    picture("filter-9.png", PNG + head(64, 64) + chunk(b"IDAT", zlib.compress((b"\x09" + b"\0" * 64) * 64)) + END)
    picture("rows-missing.png", PNG + head(64, 64) + chunk(b"IDAT", zlib.compress(b"\0" * 65)) + END)
    picture("not-deflated.png", PNG + head(64, 64) + chunk(b"IDAT", b"\xff" * 300) + END)
    picture("chunk-of-2e31.png", PNG + struct.pack(">I", 0x7FFFFFFF) + b"IHDR" + b"\0" * 40)
    bomb = zlib.compress(b"\0" * (40 << 20), 9)
    picture("rows-bomb.png", PNG + head(8, 1) + chunk(b"IDAT", bomb) + END)
    picture("one-pixel.png", PNG + head(1, 1) + chunk(b"IDAT", zlib.compress(b"\0\0")) + END)


# The other formats.


def tiff_entry(tag, kind, count, value):
    return struct.pack("<HHII", tag, kind, count, value)


def tiff(*entries):
    return b"II*\0" + struct.pack("<I", 8) + struct.pack("<H", len(entries)) + b"".join(entries) + struct.pack("<I", 0)


def other_pictures():
    picture("head-only.gif", b"GIF89a")
    picture("no-frame.gif", b"GIF89a" + struct.pack("<HHBBB", 65535, 65535, 0, 0, 0) + b";")
    picture("frame-outside.gif", b"GIF89a" + struct.pack("<HHBBB", 64, 64, 0x80, 0, 0) + b"\0" * 6 + b"," + struct.pack("<HHHHB", 60, 60, 64, 64, 0) + b"\2\1\0\0;")
    picture("bad-codes.gif", b"GIF89a" + struct.pack("<HHBBB", 64, 64, 0x80, 0, 0) + b"\0" * 6 + b"," + struct.pack("<HHHHB", 0, 0, 64, 64, 0) + b"\x0c\x08" + b"\xff" * 8 + b"\0;")
    picture("cut.webp", b"RIFF\x20\0\0\0WEBPVP8 ")
    picture("claims-16384.webp", b"RIFF\x1a\0\0\0WEBPVP8L\x0d\0\0\0\x2f\xff\xff\xff\x0f" + b"\0" * 8)
    picture("no-picture.webp", b"RIFF\x16\0\0\0WEBPVP8X\x0a\0\0\0\0\0\0\0\xff\xff\0\xff\xff\0")
    picture("directory-outside.tif", b"II*\0" + struct.pack("<I", 0x7FFFFFF0))
    picture("directory-of-itself.tif", b"MM\0*" + struct.pack(">I", 4) + b"\0\1" + b"\0" * 16)
    sizes = lambda w, h: [tiff_entry(256, 4, 1, w), tiff_entry(257, 4, 1, h)]
    picture("claims-2e31.tif", tiff(*sizes(0x7FFFFFFF, 0x7FFFFFFF), tiff_entry(258, 3, 1, 8)))
    picture("strips-outside.tif", tiff(*sizes(64, 64), tiff_entry(258, 3, 1, 8), tiff_entry(262, 3, 1, 1), tiff_entry(273, 4, 1, 0x7FFFFF00), tiff_entry(278, 4, 1, 64), tiff_entry(279, 4, 1, 4096)))
    picture("tag-of-2e32.tif", tiff(*sizes(64, 64), tiff_entry(273, 4, 0xFFFFFFFF, 8)))
    picture("head-only.bmp", b"BM")
    picture("claims-2e31.bmp", b"BM" + struct.pack("<IHHI", 54, 0, 0, 54) + struct.pack("<IiiHHIIiiII", 40, 0x7FFFFFFF, -0x7FFFFFFF, 1, 24, 0, 0, 0, 0, 0, 0))
    picture("cut.bmp", b"BM" + struct.pack("<IHHI", 54, 0, 0, 54) + struct.pack("<IiiHHIIiiII", 40, 64, 64, 1, 24, 0, 0, 0, 0, 0, 0) + b"\0" * 100)
    picture("drawing.svg", '<svg xmlns="http://www.w3.org/2000/svg"><image href="/etc/passwd"/></svg>\n')
    picture("page.html", "<!DOCTYPE html><title>Not found</title>\n")
    picture("paper.pdf", b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
    picture("phone.heic", b"\0\0\0\x18ftypheic\0\0\0\0heicmif1")
    picture("archive.zip.jpg", b"PK\5\6" + b"\0" * 18)
    picture("zeros.png", b"\0" * 4096)
    picture("wide-letters.txt", "\ufeffA letter, not a picture.\n".encode("utf-16"))


# Stacks and machines.


def good_stack():
    return {
        "kind": "undercoat-stack", "version": 1, "name": "good",
        "coats": [{"name": "black", "colour": "#101010", "thickness_um": 20}],
        "ground": {"name": "white", "colour": "#f0f0f0"},
        "curve": {"calibrated": False, "points": [{"dose_j_per_cm2": 20, "depth_um": 0}, {"dose_j_per_cm2": 45, "depth_um": 25}], "spread": [0.1]},
    }


def changed(of, path, value):
    at = of
    for step in path[:-1]:
        at = at[step]
    at[path[-1]] = value
    return of


def stacks():
    stack("empty.json", b"")
    stack("null.json", "null")
    stack("list.json", "[]")
    stack("deep.json", '{"kind":' * 10100)
    stack("deep-lists.json", "[" * 10100 + "]" * 10100)
    stack("two-objects.json", json.dumps(good_stack()) + "{}")
    stack("no-utf8.json", b'{"kind":"undercoat-stack","version":1,"name":"\xff\xfe"}')
    stack("another-kind.json", changed(good_stack(), ["kind"], "undercoat-machine"))
    stack("later-version.json", changed(good_stack(), ["version"], 99))
    stack("no-coats.json", changed(good_stack(), ["coats"], []))
    stack("hundreds-of-coats.json", changed(good_stack(), ["coats"], good_stack()["coats"] * 500))
    stack("no-colour.json", changed(good_stack(), ["coats", 0, "colour"], "red"))
    stack("endless-thickness.json", json.dumps(good_stack()).replace('"thickness_um": 20', '"thickness_um": 1e999'))
    stack("colour-twice.json", json.dumps(good_stack()).replace('"colour":', '"colour": "#112233", "colour":', 1))
    stack("no-number.json", json.dumps(good_stack()).replace('"thickness_um": 20', '"thickness_um": NaN'))
    stack("negative-dose.json", changed(good_stack(), ["curve", "points", 0, "dose_j_per_cm2"], -20))
    stack("falling-curve.json", changed(good_stack(), ["curve", "points", 0, "depth_um"], 90))
    stack("one-point.json", changed(good_stack(), ["curve", "points"], [{"dose_j_per_cm2": 20, "depth_um": 0}]))
    stack("spread-of-two.json", changed(good_stack(), ["curve", "spread"], [0.1, 0.2]))
    stack("word-for-number.json", changed(good_stack(), ["coats", 0, "thickness_um"], "20"))


def machines():
    good = {
        "kind": "undercoat-machine", "version": 1, "name": "m", "optical_power_w": 5, "power_offset_percent": 0,
        "beam_width_along_mm": 0.08, "beam_width_across_mm": 0.1, "bed_mm": [400, 400], "run_up_mm": 5,
        "acceleration_mm_per_s2": 500, "top_speed_mm_per_min": 6000, "power_per_pixel": False, "skips_blank": True,
    }
    for name, key, value in (
        ("no-beam", "beam_width_along_mm", 0), ("wide-beam", "beam_width_across_mm", 1e9), ("no-bed", "bed_mm", [0, 0]),
        ("bed-of-three", "bed_mm", [1, 2, 3]), ("strong", "optical_power_w", 1e300), ("offset-100", "power_offset_percent", 100),
        ("backwards", "run_up_mm", -1), ("still", "acceleration_mm_per_s2", 0),
    ):
        machine(name + ".json", {**good, key: value})


# Jobs, charts, readings, rasters, orders.


def zipped(parts, method=zipfile.ZIP_DEFLATED):
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", method) as z, warnings.catch_warnings():
        warnings.simplefilter("ignore")  # a name twice is meant
        for name, data in parts:
            z.writestr(zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0)), data, method, 9)
    return out.getvalue()


def jobs():
    job("empty.undercoat", b"")
    job("no-zip.undercoat", b"PK\3\4" + b"\xff" * 100)
    job("no-parts.undercoat", zipped([]))
    job("no-document.undercoat", zipped([("../../job.json", "{}")]))
    job("empty-document.undercoat", zipped([("job.json", "")]))
    job("another-kind.undercoat", zipped([("job.json", '{"kind":"x","version":1}')]))
    job("later-version.undercoat", zipped([("job.json", '{"kind":"undercoat-job","version":99}')]))
    job("no-fields.undercoat", zipped([("job.json", '{"kind":"undercoat-job","version":1}')]))
    job("bomb.undercoat", zipped([("job.json", " " * (40 << 20))]))
    job("twice.undercoat", zipped([("job.json", "{}"), ("job.json", "[]")]))
    cut = zipped([("job.json", '{"kind":"undercoat-job"}'), ("picture", bytes(range(256)) * 8)])
    job("cut.undercoat", cut[:-40])


def swatches():
    def chart(name, data):
        write(name, data if isinstance(data, str) else json.dumps(data))
        case(name, 3, "read", "{files}/one-pixel.png", "--chart", "{files}/" + name, "-o", "{out}/r.json")

    def readings(name, data):
        write(name, data if isinstance(data, str) else json.dumps(data))
        case(name, 3, "fit", "{files}/" + name, "-o", "{out}/s.json")

    chart("chart-empty.json", "{}")
    chart("chart-no-swatches.json", {"kind": "undercoat-chart", "version": 1, "size_mm": [100, 100], "marks_mm": [[0, 0]] * 4, "swatches": [], "rasters": []})
    readings("readings-empty.json", "{}")
    readings("readings-none.json", {"kind": "undercoat-readings", "version": 1, "swatches": []})
    readings("readings-huge.json", '{"kind":"undercoat-readings","version":1,"swatches":[' + ",".join(['{"id":"A1"}'] * 1001) + "]}")
    case("raster of another kind", 3, "expose", "{files}/one-pixel.png", "-o", "{out}/d.csv", "--grid", "999")
    write("orders-no-head.csv", "a,b\n1,2\n")
    write("orders-escaping.csv", "order,picture\n../../x,one-pixel.png\n")
    case("orders-no-head.csv", 3, "batch", "{files}/orders-no-head.csv", "-o", "{out}/o")
    case("orders-escaping.csv", 3, "batch", "{files}/orders-escaping.csv", "-o", "{out}/o", "--row", "1")


def settings():
    for name, *args in (
        ("no pitch", "--pitch", "0"), ("pitch no number", "--pitch", "NaN"), ("endless dpi", "--pitch", "1e-300dpi"), ("fine pitch on a huge panel", "--panel", "10000x10000mm", "--pitch", "0.01mm"),
        ("no panel", "--panel", "0x0mm"), ("endless panel", "--panel", "1e400x1mm"), ("panel of nothing", "--panel", ""),
        ("border wider than the panel", "--border", "200mm"), ("negative border", "--border", "-1mm"), ("border of three", "--border", "1,2,3mm"),
        ("no power", "--power", "0"), ("power over all", "--power", "101"), ("power no number", "--power", "NaN"),
        ("no speed", "--speed", "0"), ("speed of light", "--speed", "1e300mm/s"), ("no passes", "--passes", "0"), ("a billion passes", "--passes", "1000000000"),
        ("no such screen", "--screen", "velvet"), ("a dot too long", "--min-dot", "99"), ("odd matrix", "--screen", "bayer", "--matrix", "7"),
        ("lines too fine", "--screen", "clustered", "--lines-per-cm", "1e9"), ("letters too large", "--text", "W; size=1e9mm"),
        ("letters without a size", "--text", "W; size=NaN"), ("letters of nothing", "--text", " "), ("no such font", "--text", "A; font=none"),
        ("a hundred thousand letters", "--text", "W" * 100000), ("letters that turn", "--text", "A; turn=1e400"),
        ("fade of nothing", "--fade", "star"), ("curve backwards", "--curve", "50,50 20,20"), ("white below black", "--black", "90", "--white", "10"),
    ):
        setting(name, *args)


def main():
    os.makedirs(FILES, exist_ok=True)
    for old in os.listdir(FILES):
        os.remove(os.path.join(FILES, old))
    for make in (jpegs, pngs, other_pictures, stacks, machines, jobs, swatches, settings):
        make()
    with open(os.path.join(HERE, "cases.json"), "w") as f:
        json.dump(cases, f, indent=1)
        f.write("\n")


if __name__ == "__main__":
    main()
