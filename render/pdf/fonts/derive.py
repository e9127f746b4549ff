#!/usr/bin/env python3
"""Derive the four fonts in this folder from the published originals. Run once, by hand; NOTICE says when and from what.

    python3 derive.py FOLDER_WITH_ORIGINALS

The PDF library takes kerning only from a TrueType kern table and characters only through a format 4 cmap, and
the originals kern through GPOS and lack a few characters. So: GPOS pair kerning is copied into a kern table, arrows,
primes, the micro sign, the non-breaking hyphen and the narrow no-break space are added, the OpenType layout
tables the PDF library cannot read are dropped, and the family is renamed because the fonts are no longer the originals.
Outlines and widths of the original glyphs are not touched. Needs fontTools (Debian python3-fonttools 4.38).
"""
import array
import hashlib
import sys
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


def main():
    folder = Path(sys.argv[1])
    for source, digest, style, target in STYLES:
        path = next(folder.rglob(source))
        if hashlib.sha256(path.read_bytes()).hexdigest() != digest:
            sys.exit("%s is not the original this script was written for" % path)
        font, pairs = derive(path, style)
        out = Path(__file__).with_name(target)
        font.save(out, reorderTables=True)
        print("%-15s %6d bytes %5d kerning pairs" % (target, out.stat().st_size, pairs))


main()
