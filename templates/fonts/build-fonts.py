"""Makes the bundled fonts and their width table from Inter. Dev-time only; see README.md here.

    python3 build-fonts.py <folder with Inter-Regular.woff2 and Inter-Bold.woff2> <out folder>

Needs fontTools and brotli. The same input and tool versions give the same bytes.
"""

import json
import sys
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont

FAMILY = "Waysheet Sans"


def span(first, last):
    return set(range(first, last + 1))


SYMBOLS = set(map(ord, "−×÷±·°′″‰µμ²³¹⁰⁴⁵⁶⁷⁸⁹⁺⁻₀₁₂₃₄₅₆₇₈₉₊₋≤≥<>≈≠≡√∞∑∂∆ΔΩσΣ‖∥⊥∠⌀ℓ№™€£"
                       "→←↑↓↔↕↗↘↖↙▲△▼▽●○■□◆◇✓✗½¼¾⅓⅔"))

# What a report may have to print: names of people, firms and places, and the notes of a survey.
FULL = (
    span(0x20, 0x7E) | span(0xA0, 0xFF)          # Basic Latin, Latin-1
    | span(0x100, 0x17F)                         # Latin Extended-A
    | {0x218, 0x219, 0x21A, 0x21B, 0x1E9E}       # Romanian comma-below letters, capital sharp s
    | {0x1A0, 0x1A1, 0x1AF, 0x1B0} | span(0x1E80, 0x1E85) | span(0x1EA0, 0x1EF9)  # Welsh, Vietnamese
    | span(0x2C6, 0x2DD) | span(0x300, 0x30C) | {0x327, 0x328}  # accents by themselves and combining
    | span(0x384, 0x3CE)                         # Greek
    | span(0x400, 0x45F) | {0x490, 0x491}        # Cyrillic
    | span(0x2002, 0x200D) | span(0x2010, 0x2027) | {0x202F} | span(0x2030, 0x203A) | {0x2044, 0x2060}
    | SYMBOLS
)

# What an axis, a legend or a mark label needs. Kept small, for each chart carries its own copy.
CHART = span(0x20, 0x7E) | (span(0xA0, 0xFF) - {0xAD}) | set(map(ord, "\u00a0\u2007\u2008\u2009\u202f°±²³µμ·×÷–—…’‘“”•′″−≤≥≈√ΔσΣ→←↑↓↔↕▲△▼▽●○■□◆◇₀₁₂"))

# Figures of one width, so that columns of numbers stand under each other without any CSS.
TABULAR = set(map(ord, "0123456789+−±.,\u2008"))


def lookup_mapping(font, tag):
    gsub = font["GSUB"].table
    mapping = {}
    for record in gsub.FeatureList.FeatureRecord:
        if record.FeatureTag != tag:
            continue
        for index in record.Feature.LookupListIndex:
            for table in gsub.LookupList.Lookup[index].SubTable:
                mapping.update(getattr(table, "ExtSubTable", table).mapping)
    return mapping


def by_default(font, feature, codes=None):
    """Makes a feature's glyphs the plain ones, for the given characters or all that it knows."""
    mapping = lookup_mapping(font, feature)
    for table in font["cmap"].tables:
        for code, glyph in table.cmap.items():
            if codes is None or code in codes:
                table.cmap[code] = mapping.get(glyph, glyph)


def rename(font, style):
    names = font["name"]
    kept = [n for n in names.names if n.nameID in (0, 9, 13, 14)]  # copyright, designer, licence
    names.names = kept
    postscript = f"{FAMILY.replace(' ', '')}-{style}"
    for name_id, text in {1: FAMILY, 2: style, 3: postscript, 4: f"{FAMILY} {style}", 5: "Version 1.0; from Inter 4.1", 6: postscript}.items():
        names.setName(text, name_id, 3, 1, 0x409)


def unpack(woff2, target):
    """The same font as a plain TrueType file, the only kind that a system's font list takes."""
    font = TTFont(woff2, recalcTimestamp=False)
    font.flavor = None
    font.save(target)


def build(source, style, codes, features, target, unpacked=None):
    font = TTFont(source, recalcTimestamp=False)
    by_default(font, "tnum", TABULAR)
    by_default(font, "cv05")  # l with a tail: in a serial number it must not be taken for I
    rename(font, style)
    options = subset.Options()
    options.layout_features = features
    options.name_IDs = ["*"]
    options.hinting = False
    options.notdef_outline = True
    options.flavor = "woff2"
    options.recalc_timestamp = False
    subsetter = subset.Subsetter(options)
    present = set(font.getBestCmap())
    subsetter.populate(unicodes=codes & present)
    subsetter.subset(font)
    font.flavor = "woff2"
    font.save(target)
    if unpacked is not None:
        unpack(target, unpacked)
    cmap, hmtx = font.getBestCmap(), font["hmtx"]
    print(f"{target.name}: {target.stat().st_size} bytes, {len(cmap)} characters; absent: "
          + " ".join(chr(c) if chr(c).isprintable() else hex(c) for c in sorted(codes - present)))
    return font["head"].unitsPerEm, {code: hmtx[glyph][0] for code, glyph in cmap.items()}


def ranges(codes):
    """Consecutive code points as [first, last] pairs."""
    out = []
    for code in sorted(codes):
        if out and out[-1][1] == code - 1:
            out[-1][1] = code
        else:
            out.append([code, code])
    return out


def main(source, out):
    table = {}
    for style in ("Regular", "Bold"):
        inter = source / f"Inter-{style}.woff2"
        # No contextual features: Inter would turn "10x20" into "10×20", and a serial number is not ours to change.
        em, widths = build(inter, style, FULL, ["kern", "mark", "mkmk", "ccmp", "locl", "zero", "ss02"],
                           out / f"WaysheetSans-{style}.woff2", out / "installed" / f"WaysheetSans-{style}.ttf")
        _, chart = build(inter, style, CHART, [], out / f"WaysheetSansChart-{style}.woff2")
        for code, width in chart.items():
            assert widths[code] == width, hex(code)
        table["unitsPerEm"] = em
        table["characters"] = ranges(widths)
        table.setdefault("chartCharacters", ranges(chart))
        assert table["chartCharacters"] == ranges(chart)
        table[style.lower()] = [widths[code] for code in sorted(widths)]
    lines = ",\n".join(f"  {json.dumps(key)}: {json.dumps(value, separators=(',', ':'))}" for key, value in table.items())
    (out / "widths.json").write_text("{\n" + lines + "\n}\n")


main(Path(sys.argv[1]), Path(sys.argv[2]))
