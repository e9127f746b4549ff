#!/usr/bin/env python3
"""Derive the four fonts in this folder from the published originals. Run once, by hand; NOTICE says when and from what.

    python3 derive.py FOLDER_WITH_ORIGINALS

The PDF library takes kerning only from a TrueType kern table and characters only through a format 4 cmap, and
the originals kern through GPOS and lack a few characters. So: GPOS pair kerning is copied into a kern table, arrows,
primes, the micro sign, the non-breaking hyphen, the narrow no-break space and the letters of Vietnamese are added, the OpenType layout
tables the PDF library cannot read are dropped, and the family is renamed because the fonts are no longer the originals.
Outlines and widths of the original glyphs are not touched. Needs fontTools and brotli (Debian python3-fonttools 4.38, python3-brotli 1.0.9).
"""
import array
import hashlib
import math
import sys
import unicodedata
from pathlib import Path

from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont, newTable
from fontTools.ttLib.tables._k_e_r_n import KernTable_format_0
from fontTools.ttLib.tables.ttProgram import Program

FAMILY = "Ownerguide Text"
STYLES = [  # original file, SHA-256 of it, style name, our file
    ("AtkinsonHyperlegibleNext_400Regular.ttf", "60f8c1a1b2e7da47ff7af95c3e5b5b1232ca5b3771e93eb587784f08fb1e6650", "Regular", "regular.ttf"),
    ("AtkinsonHyperlegibleNext_700Bold.ttf", "4ba7415b7095e546720446b6d47daa95d6f482d9fd40c729793e21d67cc9f366", "Bold", "bold.ttf"),
    ("AtkinsonHyperlegibleNext_400Regular_Italic.ttf", "b3afbc14be6529a2bc8a84981fa70805623cdfe17bcb825bc8282c1b99440360", "Italic", "italic.ttf"),
    ("AtkinsonHyperlegibleNext_700Bold_Italic.ttf", "a2d95c13a0c91b5b83778fa75ec22c00baa378e1617ac4f689a48720a022d70a", "Bold Italic", "bolditalic.ttf"),
]
# New characters that look like an old one. Each gets its own glyph: two characters on one glyph cannot be told
# apart when text is taken out of a PDF.
COPIES = {0x00B5: "uni03BC", 0x2011: "hyphen", 0x2032: "quotesingle", 0x2033: "quotedbl", 0x202F: "uni2009"}


def add_glyph(font, name, code, glyph, width):
    font.setGlyphOrder(font.getGlyphOrder() + [name])
    font["glyf"].glyphs[name] = glyph
    font["glyf"].glyphOrder = font.getGlyphOrder()
    glyph.recalcBounds(font["glyf"])
    font["hmtx"].metrics[name] = (width, getattr(glyph, "xMin", 0))
    for table in font["cmap"].tables:
        table.cmap[code] = name


def copy_of(font, base):
    pen = TTGlyphPen(font.getGlyphSet())
    if font["glyf"][base].numberOfContours != 0:  # a space has nothing to copy
        pen.addComponent(base, (1, 0, 0, 1, 0, 0))
    return pen.glyph()


def arrow(font, right):
    """An arrow with the minus sign's stroke, height and slant-free build; drawn for this project."""
    minus = font["glyf"]["minus"]
    width = font["hmtx"]["minus"][0] + 160
    stroke = minus.yMax - minus.yMin
    mid = (minus.yMax + minus.yMin) / 2
    left, tip, head = minus.xMin, width - minus.xMin, stroke * 1.35 + 100
    reach = stroke * 0.75
    points = [
        (left, mid - stroke / 2), (left, mid + stroke / 2), (tip - stroke, mid + stroke / 2),
        (tip - head, mid + head - reach), (tip - head + reach, mid + head), (tip, mid),
        (tip - head + reach, mid - head), (tip - head, mid - head + reach), (tip - stroke, mid - stroke / 2),
    ]
    if not right:
        points = [(width - x, y) for x, y in reversed(points)]
    pen = TTGlyphPen(None)
    pen.moveTo(tuple(map(round, points[0])))
    for p in points[1:]:
        pen.lineTo(tuple(map(round, p)))
    pen.closePath()
    return pen.glyph(), width


# The letters of Vietnamese that the originals lack: each is put together from a letter and marks of the originals. Three marks
# are drawn for this project; the dot below is the full stop.
VIETNAMESE = "ĨĩŨũƠơƯư₫" + "".join(map(chr, range(0x1EA0, 0x1EF2))) + "".join(map(chr, range(0x1EF4, 0x1EFA)))
CIRCUMFLEX, BREVE, HORN, HOOK, DOT = 0x302, 0x306, 0x31B, 0x309, 0x323


def stroke(font, points, width):
    """A line of this width through the points, slanted as the style is; its ends are cut square."""
    slant = math.tan(math.radians(-font["post"].italicAngle))
    left, right = [], []
    for i, (x, y) in enumerate(points):
        (x0, y0), (x1, y1) = points[max(i - 1, 0)], points[min(i + 1, len(points) - 1)]
        length = math.hypot(x1 - x0, y1 - y0)
        dx, dy = -(y1 - y0) / length * width / 2, (x1 - x0) / length * width / 2
        left.append((x + dx, y + dy))
        right.append((x - dx, y - dy))
    outline = left + right[::-1]
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(outline, outline[1:] + outline[:1]))
    if area > 0:  # an outer contour runs clockwise
        outline.reverse()
    pen = TTGlyphPen(None)
    outline = [(round(x + y * slant), round(y)) for x, y in outline]
    pen.moveTo(outline[0])
    for p in outline[1:]:
        pen.lineTo(p)
    pen.closePath()
    return pen.glyph()


def arc(cx, cy, r, start, end, steps=14):
    angles = [math.radians(start + (end - start) * i / steps) for i in range(steps + 1)]
    return [(cx + r * math.cos(a), cy + r * math.sin(a)) for a in angles]


def add_marks(font):
    """The hook above and the horn, as glyphs without a character; their origin is the middle of their foot."""
    glyf = font["glyf"]
    bar = glyf["uni0304"]  # the macron has the weight of all marks
    weight = bar.yMax - bar.yMin
    r = 38 + weight * 0.45
    hook = arc(0, 118, r, 185, -50) + [(0, 118 - r - weight * 0.25), (0, 0)]
    horn = [(-60, -8), (0, 0)] + arc(0, 62, 62, -80, 0, 8) + [(62, 100)]
    for name, glyph in (("ownhook", stroke(font, hook, weight)), ("ownhorn", stroke(font, horn, weight * 1.05))):
        font.setGlyphOrder(font.getGlyphOrder() + [name])
        glyf.glyphs[name], glyf.glyphOrder = glyph, font.getGlyphOrder()
        glyph.recalcBounds(glyf)
        font["hmtx"].metrics[name] = (0, glyph.xMin)


def vietnamese(font, char):
    """The components of a letter, [(glyph, x, y)], and its width."""
    cmap, glyf, metrics = font.getBestCmap(), font["glyf"], font["hmtx"].metrics
    slant = math.tan(math.radians(-font["post"].italicAngle))
    base, *marks = unicodedata.normalize("NFD", char)
    marks = [ord(m) for m in marks]
    above = [m for m in marks if m not in (HORN, DOT)]
    capital = base.isupper()
    name = {"i": "dotlessi"}.get(base, cmap[ord(base)]) if above else cmap[ord(base)]
    letter = glyf[cmap[ord("x")]] if not capital else glyf[cmap[ord("H")]]
    box, width = glyf[name], metrics[name][0]
    parts, top, case = [(name, 0, 0)], letter.yMax, ".case" if capital else ""
    # The middle of what stands above a letter, at its foot: as the originals have the circumflex there.
    model = font["glyf"][cmap[ord(unicodedata.normalize("NFC", base + "\u0302"))]]
    acute = glyf["uni0302" + case]
    place = [c for c in model.components if c.glyphName.startswith("uni0302")]
    # over gives what to add to a mark whose own middle and foot are x and y, so that its foot comes to stand at height.
    middle = (place[0].x + (acute.xMin + acute.xMax) / 2 - slant * (acute.yMax - acute.yMin) / 2) if place else box.xMin + (box.xMax - box.xMin) / 2
    foot = acute.yMin + (place[0].y if place else 0)

    def put(glyph, x, y, by="middle"):
        g = glyf[glyph]
        at = (g.xMin + g.xMax) / 2 - slant * (g.yMax - g.yMin) / 2 if by == "middle" else g.xMin
        parts.append((glyph, round(x - at), round(y - g.yMin)))
        return y + g.yMax - g.yMin, parts[-1]

    height, gap = foot, (glyf["uni0304"].yMax - glyf["uni0304"].yMin) * 0.45
    first = None
    for m in above:
        glyph = {0x300: "gravecomb", 0x301: "acutecomb", 0x303: "tildecomb", CIRCUMFLEX: "uni0302", BREVE: "uni0306"}.get(m)
        glyph = glyph + case if glyph else "ownhook"
        x = middle + slant * (height - foot)
        if first == CIRCUMFLEX and m in (0x300, 0x301):  # beside the roof, not on it
            roof, g = glyf["uni0302" + case], glyf[glyph]
            weight = glyf["uni0304"].yMax - glyf["uni0304"].yMin
            half, up = (roof.xMax - roof.xMin) / 2, (roof.yMax - roof.yMin) * 0.7
            side = 1 if m == 0x301 else -1
            x = middle + slant * up + side * (half + ((g.xMax - g.xMin) * 0.5 - weight * 0.75))
            put(glyph, x, foot + up)
        else:
            height, _ = put(glyph, x, height)
            height += gap
        first = first or m
    if HORN in marks:
        lift = letter.yMax - (52 if base in "oO" else 8)
        inside = 62 if base in "oO" else 18
        parts.append(("ownhorn", round(box.xMax - inside), round(lift)))
        width += 44 if base in "oO" else 50
    if DOT in marks:
        dot, below = glyf[cmap[ord(".")]], -212
        x = (box.xMin + box.xMax) / 2 - slant * (box.yMax + box.yMin) / 2
        if base == "y":
            x = (box.xMin + box.xMax) / 2 + (box.xMax - box.xMin) * 0.26
        parts.append((cmap[ord(".")], round(x + slant * below - (dot.xMin + dot.xMax) / 2), round(below - dot.yMin)))
    return parts, width


def add_vietnamese(font):
    add_marks(font)
    for char in VIETNAMESE:
        if char == "₫":  # the dong: d with stroke over a bar
            base, bar = font.getBestCmap()[ord("đ")], font["glyf"]["uni0304"]
            box = font["glyf"][base]
            parts, width = [(base, 0, 0), ("uni0304", round((box.xMin + box.xMax - bar.xMin - bar.xMax) / 2), -170 - bar.yMin)], font["hmtx"].metrics[base][0]
        else:
            parts, width = vietnamese(font, char)
        pen = TTGlyphPen(font.getGlyphSet())
        for glyph, x, y in parts:
            pen.addComponent(glyph, (1, 0, 0, 1, x, y))
        add_glyph(font, "own%04X" % ord(char), ord(char), pen.glyph(), width)


def pair_kerning(font, glyphs):
    """The kern feature as {(left, right): units}. Within a lookup the first subtable that knows the left glyph's pair wins."""
    gpos, pairs = font["GPOS"].table, {}
    lookups = sorted({i for r in gpos.FeatureList.FeatureRecord if r.FeatureTag == "kern" for i in r.Feature.LookupListIndex})
    for index in lookups:
        done = {}
        for sub in gpos.LookupList.Lookup[index].SubTable:
            covered = [g for g in sub.Coverage.glyphs if g in glyphs]
            if sub.Format == 1:
                for left in covered:
                    for rec in sub.PairSet[sub.Coverage.glyphs.index(left)].PairValueRecord:
                        if rec.SecondGlyph in glyphs:
                            done.setdefault((left, rec.SecondGlyph), rec.Value1.XAdvance if rec.Value1 else 0)
                continue
            for left in covered:  # class pairs: the subtable answers for every right glyph, zero included
                row = sub.Class1Record[sub.ClassDef1.classDefs.get(left, 0)].Class2Record
                for right in glyphs:
                    value = row[sub.ClassDef2.classDefs.get(right, 0)].Value1
                    done.setdefault((left, right), (getattr(value, "XAdvance", 0) or 0) if value else 0)
        for pair, value in done.items():
            pairs[pair] = pairs.get(pair, 0) + value
    return {pair: value for pair, value in pairs.items() if value}


def derive(original, style):
    font = TTFont(original, recalcTimestamp=False)
    font["post"].formatType = 3.0  # glyph names are of no use in a PDF
    order = {code: name for code, name in font.getBestCmap().items()}
    # Kern what a guide prints: Latin-1, Latin Extended-A letters of the three languages, and punctuation.
    wanted = set(range(0x20, 0x7F)) | set(range(0xA1, 0x100)) | {0x152, 0x153, 0x178} | {0x2013, 0x2014, 0x2018, 0x2019, 0x201C, 0x201D, 0x2026}
    pairs = pair_kerning(font, {order[c] for c in wanted if c in order})
    for code, base in COPIES.items():
        add_glyph(font, "own%04X" % code, code, copy_of(font, base), font["hmtx"][base][0])
    for code, right in ((0x2192, True), (0x2190, False)):
        glyph, width = arrow(font, right)
        add_glyph(font, "own%04X" % code, code, glyph, width)

    add_vietnamese(font)

    sub = KernTable_format_0(apple=False)
    sub.version, sub.coverage, sub.tupleIndex, sub.kernTable = 0, 1, None, pairs
    font["kern"] = newTable("kern")
    font["kern"].version, font["kern"].kernTables = 0, [sub]

    # The PDF library copies these two tables whether they exist or not; empty ones would be malformed.
    font["cvt "] = newTable("cvt ")
    font["cvt "].values = array.array("h", [0])
    font["fpgm"] = newTable("fpgm")
    font["fpgm"].program = Program()
    font["fpgm"].program.fromBytecode(bytes([0xB0, 0x00, 0x21]))  # push a zero, pop it
    for tag in ("GPOS", "GSUB", "GDEF", "STAT", "gasp"):
        if tag in font:
            del font[tag]

    ps = FAMILY.replace(" ", "") + "-" + style.replace(" ", "")
    for record in list(font["name"].names):
        keep = {0, 1, 2, 3, 4, 5, 6, 13, 14}
        if record.nameID not in keep:
            font["name"].removeNames(nameID=record.nameID)
    version = "Version 1.000; derived from Atkinson Hyperlegible Next 2.001"
    for ident, text in {1: FAMILY, 2: style, 3: version + ";" + ps, 4: FAMILY + " " + style, 5: version, 6: ps}.items():
        font["name"].setName(text, ident, 3, 1, 0x409)
    return font, len(pairs)


def web(path):
    """Write a style again as a page carries it: WOFF2, without what only the PDF library asks for."""
    font = TTFont(path, recalcTimestamp=False)
    for tag in ("cvt ", "fpgm", "prep"):
        if tag in font:
            del font[tag]
    for name in font["glyf"].keys():
        font["glyf"][name].removeHinting()
    font.flavor = "woff2"
    font.save(path.with_suffix(".woff2"), reorderTables=True)


def main():
    folder = Path(sys.argv[1])
    for source, digest, style, target in STYLES:
        path = next(folder.rglob(source))
        if hashlib.sha256(path.read_bytes()).hexdigest() != digest:
            sys.exit("%s is not the original this script was written for" % path)
        font, pairs = derive(path, style)
        out = Path(__file__).with_name(target)
        font.save(out, reorderTables=True)
        if style in ("Regular", "Bold"):
            web(out)
        print("%-15s %6d bytes %5d kerning pairs" % (target, out.stat().st_size, pairs))


main()
