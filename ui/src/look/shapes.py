"""Writes shapes.woff2: the seven shapes that stand before a state's word, drawn to the height of the capitals of the
text face, so that they look the same on every machine. Needs fonttools and brotli; run beside the file it writes."""

from math import cos, pi, sin

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

CAP = 668  # height of the capitals of the text face, of 1000
WIDE = 760  # advance of each shape


def outline(*contours):
    """One glyph out of polygons; a second one runs the other way round and is a hole."""
    pen = TTGlyphPen(None)
    for points in contours:
        pen.moveTo(points[0])
        for point in points[1:]:
            pen.lineTo(point)
        pen.closePath()
    return pen.glyph()


def square(inset):
    left, right, low, high = 70 + inset, WIDE - 70 - inset, 24 + inset, CAP - 24 - inset
    return [(left, low), (left, high), (right, high), (right, low)]


def disc():
    turn = [pi / 2 - 2 * pi * k / 48 for k in range(48)]
    return [(round(WIDE / 2 + 320 * cos(a)), round(CAP / 2 + 320 * sin(a))) for a in turn]


GLYPHS = {
    0x25A0: outline(square(0)),
    0x25A1: outline(square(0), square(64)[::-1]),
    0x25B2: outline([(30, 0), (WIDE / 2, CAP), (WIDE - 30, 0)]),
    0x25BC: outline([(30, CAP), (WIDE - 30, CAP), (WIDE / 2, 0)]),
    0x25C6: outline([(30, CAP / 2), (WIDE / 2, CAP + 16), (WIDE - 30, CAP / 2), (WIDE / 2, -16)]),
    0x25CF: outline(disc()),
    # A pencil: its point at the lower left, and a gap before its other end.
    0x270E: outline(
        [(60, 20), (110, 220), (470, 580), (600, 450), (240, 90)],
        [(510, 620), (580, 690), (710, 560), (640, 490)],
    ),
}

names = [".notdef"] + [f"u{code:04X}" for code in GLYPHS]
font = FontBuilder(1000, isTTF=True)
font.setupGlyphOrder(names)
font.setupCharacterMap({code: f"u{code:04X}" for code in GLYPHS})
font.setupGlyf(dict(zip(names, [outline(square(0)), *GLYPHS.values()])))
font.setupHorizontalMetrics({name: (WIDE, 0) for name in names})
font.setupHorizontalHeader(ascent=984, descent=-316)
font.setupNameTable({"familyName": "Shapes", "styleName": "Regular"})
font.setupOS2(sTypoAscender=984, sTypoDescender=-316, usWinAscent=996, usWinDescent=411, sCapHeight=CAP)
font.setupPost()
font.font.flavor = "woff2"
font.save("shapes.woff2")
