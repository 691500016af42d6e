#!/usr/bin/env python3
"""Makes the program's two font files from the Inter font family.

    make.py FOLDER    FOLDER holds Inter-Regular.otf and Inter-SemiBold.otf

Needs fonttools. Changes made, each for reading columns of measurements:
  - digits all have one width, so that columns line up without a font feature; plus, minus, equals, plus-minus and the
    figure space have that width too;
  - superscript and subscript digits have the places and sizes of built-up fractions, so that sixteenths set as
    superscripts, fraction slash, subscripts look like the ready-made halves, quarters and eighths;
  - the diameter sign is drawn as the barred O, the heavy check mark as the check mark;
  - only the signs a measuring program needs are kept, and only kerning and mark placement of the features;
  - outlines are TrueType's.
The family is renamed, since the name of the original is its makers' trademark.
"""

import sys
from pathlib import Path

from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont, newTable

FAMILY = "Axlewright Sans"
STYLES = {"Regular": "Regular", "SemiBold": "SemiBold"}
KEPT = [
    (0x0020, 0x017F),  # Latin with its accents
    (0x0384, 0x03CE),  # Greek
    (0x2000, 0x206F),  # spaces, dashes, quotes, primes, fraction slash
    (0x2070, 0x209F),  # superscripts, subscripts
    (0x20AC, 0x20AC),  # euro
    (0x2100, 0x218F),  # letter-like signs, fractions
    (0x2190, 0x21FF),  # arrows
    (0x2200, 0x22FF),  # mathematics
    (0x2300, 0x23FF),  # diameter, keys
    (0x25A0, 0x25FF),  # triangles, squares, circles
    (0x2600, 0x27BF),  # warning, check mark, cross
]
SUPERSCRIPTS = [0x2070, 0x00B9, 0x00B2, 0x00B3, *range(0x2074, 0x207A)]
SUBSCRIPTS = range(0x2080, 0x208A)
# Inter's glyphs for built-up fractions are named by a code in the private area, 0 to 9 in a row.
FIRST_NUMERATOR, FIRST_DENOMINATOR = 0xE0DC, 0xE0B4
DIGIT_WIDE = [*range(0x30, 0x3A), 0x002B, 0x2212, 0x003D, 0x00B1, 0x2007]
STAND_INS = {0x2300: 0x00D8, 0x2714: 0x2713}
OUTLINE_ERROR_EM = 0.0004


def single_substitutions(font, feature):
    """Glyph names that `feature` exchanges, old to new."""
    table = font["GSUB"].table
    swaps = {}
    for record in table.FeatureList.FeatureRecord:
        if record.FeatureTag == feature:
            for lookup in record.Feature.LookupListIndex:
                for subtable in table.LookupList.Lookup[lookup].SubTable:
                    swaps.update(getattr(getattr(subtable, "ExtSubTable", subtable), "mapping", {}))
    return swaps


def remap(font):
    cmap = font.getBestCmap()
    plain = [cmap[code] for code in range(ord("0"), ord("9") + 1)]
    tabular = single_substitutions(font, "tnum")
    changed = {ord("0") + digit: tabular[plain[digit]] for digit in range(10)}
    changed |= {code: f"uni{FIRST_NUMERATOR + digit:04X}" for digit, code in enumerate(SUPERSCRIPTS)}
    changed |= {code: f"uni{FIRST_DENOMINATOR + digit:04X}" for digit, code in enumerate(SUBSCRIPTS)}
    changed |= {code: cmap[stand_in] for code, stand_in in STAND_INS.items()}
    for table in font["cmap"].tables:
        if table.isUnicode():
            table.cmap.update(changed)


def keep_what_is_needed(font):
    options = Options(layout_features=["kern", "mark"], name_IDs=["*"], hinting=False, notdef_outline=True)
    options.drop_tables += ["meta", "DSIG"]
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[code for first, last in KEPT for code in range(first, last + 1)])
    subsetter.subset(font)


def to_truetype(font):
    glyph_set, glyphs = font.getGlyphSet(), {}
    for name in font.getGlyphOrder():
        pen = TTGlyphPen(glyph_set)
        glyph_set[name].draw(Cu2QuPen(pen, OUTLINE_ERROR_EM * font["head"].unitsPerEm, reverse_direction=True))
        glyphs[name] = pen.glyph()
    del font["CFF "]
    if "VORG" in font:
        del font["VORG"]
    font["loca"] = newTable("loca")
    font["glyf"] = newTable("glyf")
    font["glyf"].glyphs, font["glyf"].glyphOrder = glyphs, font.getGlyphOrder()
    font["maxp"].tableVersion = 0x00010000
    for field in ("maxZones", "maxTwilightPoints", "maxStorage", "maxFunctionDefs", "maxInstructionDefs",
                  "maxStackElements", "maxSizeOfInstructions", "maxComponentElements"):
        setattr(font["maxp"], field, 1 if field == "maxZones" else 0)
    font["post"].formatType = 3.0
    font.sfntVersion = "\000\001\000\000"
    for name, glyph in glyphs.items():
        glyph.recalcBounds(font["glyf"])
        font["hmtx"][name] = (font["hmtx"][name][0], getattr(glyph, "xMin", 0))


def give_digit_width(font):
    """Centres the signs that stand in columns with digits in the width of a digit."""
    cmap, glyf, metrics = font.getBestCmap(), font["glyf"], font["hmtx"]
    digit = metrics[cmap[ord("0")]][0]
    for code in DIGIT_WIDE:
        name = cmap[code]
        glyph, shift = glyf[name], (digit - metrics[name][0]) // 2
        if glyph.numberOfContours:
            glyph.coordinates.translate((shift, 0))
            glyph.recalcBounds(glyf)
        metrics[name] = (digit, getattr(glyph, "xMin", 0))


def rename(font, style):
    post_script = f"{FAMILY.replace(' ', '')}-{style}"
    names = font["name"]
    version = names.getDebugName(5)
    new = {
        1: FAMILY if style == "Regular" else f"{FAMILY} {style}", 2: "Regular", 3: f"1.0;{post_script}",
        4: f"{FAMILY} {style}", 5: "Version 1.000", 6: post_script,
        10: f"A changed selection of Inter, {version}. Not made or endorsed by the makers of Inter.",
    }
    if style != "Regular":
        new |= {16: FAMILY, 17: style}
    for number in (7, 16, 17, *range(25, 512)):
        names.removeNames(nameID=number)
    for number, text in new.items():
        names.setName(text, number, 3, 1, 0x409)


def make(source, target, style):
    font = TTFont(source)
    remap(font)
    keep_what_is_needed(font)
    to_truetype(font)
    give_digit_width(font)
    rename(font, style)
    font.save(target)
    print(f"{target.name}: {len(font.getBestCmap())} signs, {target.stat().st_size // 1024} KB")


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    for original, style in STYLES.items():
        here = Path(__file__).resolve().parent
        make(Path(sys.argv[1]) / f"Inter-{original}.otf", here / f"AxlewrightSans-{style}.ttf", style)
