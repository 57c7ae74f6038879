"""Every text and every line that counts stands out from its ground, in colours of our own.

Contrast by WCAG 2.2, 1.4.3 and 1.4.11 (AA): 4.5 to 1 for text, 3 to 1 for lines, marks and edges of
controls. The numbers are computed from the style sheets and constants themselves.
"""

import re

import numpy as np
import pytest

from tests.house.laws import held_for
from workshop_lib.drawings.chart_style import NOUGHT, STYLE
from workshop_lib.drawings.page import HOLDS
from workshop_lib.drawings.pen import COLOURS, FILLS
from workshop_lib.launcher.environment import ROOT
from workshop_lib.teaching import overview
from workshop_lib.write_up import article_style, card_page, html_page

TEXT, LINE = 4.5, 3.0
LIBRARY = ROOT / "workshop_lib"
HEX = re.compile(r"#(?:[0-9a-f]{6}|[0-9a-f]{3})\b", re.IGNORECASE)
# Lines that only part rows and frames; without them nothing is lost, so they may be faint.
FAINT = {"#c3c9d0", "#bbbfc4", "#dfe3e7", "#b8c0c8"}
DARK = {"#111111", "#212121"}  # grounds of JupyterLab's dark theme, from memory
COMMON = {"#fff", "#000", "#eee", "#ffffff"}
# From memory: greys and colours of web frameworks, of well-known sites, of flat designs, and the
# colours that chart programs take by themselves.
KNOWN = """
24292f 57606a 6e7781 8c959f afb8c1 d0d7de eaeef2 f6f8fa 1f2328 59636e d1d9e0 0969da 1a7f37 cf222e
9a6700 8250df bc4c00 c9d1d9 8b949e 6e7681 484f58 30363d 21262d 161b22 0d1117 1c2128 22272e 2d333b
373e47 444c56 545d68 768390 adbac7 f8f9fa e9ecef dee2e6 ced4da adb5bd 6c757d 495057 343a40 212529
0d6efd 6610f2 6f42c1 d63384 dc3545 fd7e14 ffc107 198754 20c997 0dcaf0 f8fafc f1f5f9 e2e8f0 cbd5e1
94a3b8 64748b 475569 334155 1e293b 0f172a f9fafb f3f4f6 e5e7eb d1d5db 9ca3af 6b7280 4b5563 374151
1f2937 111827 f4f4f5 e4e4e7 d4d4d8 a1a1aa 71717a 52525b 3f3f46 27272a 18181b dc2626 ea580c d97706
16a34a 059669 0d9488 0284c7 2563eb 4f46e5 7c3aed 9333ea b91c1c c2410c b45309 15803d 047857 0f766e
0369a1 1d4ed8 fafafa f5f5f5 eeeeee e0e0e0 bdbdbd 9e9e9e 757575 616161 424242 212121 1976d2 1565c0
0d47a1 00796b 00695c 004d40 388e3c 2e7d32 d32f2f c62828 7b1fa2 6a1b9a f57c00 ef6c00 e65100 455a64
37474f 263238 607d8b 546e7a f1f3f5 868e96 1971c2 1864ab f2f4f6 1abc9c 16a085 2ecc71 27ae60 3498db
2980b9 9b59b6 8e44ad 34495e 2c3e50 f1c40f f39c12 e67e22 d35400 e74c3c c0392b ecf0f1 bdc3c7 95a5a6
7f8c8d 1f77b4 ff7f0e 2ca02c d62728 9467bd 8c564b e377c2 7f7f7f bcbd22 17becf e69f00 56b4e9 009e73
f0e442 0072b2 d55e00 cc79a7 7b3294 c2a5cf a6dba0 008837 e66101 fdb863 b2abd2 5e3c99 d7191c fdae61
abd9e9 2c7bb6 1b9e77 d95f02 7570b3 e7298a 66a61e e6ab02 a6761d 666666 e41a1c 377eb8 4daf4a 984ea3
ff7f00 a6cee3 1f78b4 b2df8a 33a02c 636efa ef553b 00cc96 ab63fa ffa15a 19d3f3 eaecf0 c8ccd1 a2a9b1
72777d 54595d 202122 3366cc 002b36 073642 586e75 657b83 839496 93a1a1 eee8d5 fdf6e3 b58900 cb4b16
dc322f d33682 6c71c4 268bd2 2aa198 859900
"""


def luminance(colour):
    """Relative luminance by WCAG 2.2 of #rgb or #rrggbb."""
    digits = colour[1:] if len(colour) == 7 else "".join(2 * each for each in colour[1:])
    parts = np.array([int(digits[i : i + 2], 16) for i in (0, 2, 4)]) / 255
    linear = np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)
    return float(linear @ [0.2126, 0.7152, 0.0722])


def contrast(one, other="#fff"):
    """Contrast by WCAG 2.2: (lighter + 0.05) / (darker + 0.05)."""
    low, high = sorted(map(luminance, (one, other)))
    return (high + 0.05) / (low + 0.05)


def sheets():
    """Every style sheet of the workbook by its name."""
    found = {path.name: path.read_text(encoding="utf-8") for path in LIBRARY.rglob("*.css")}
    written = {"overview": overview.STYLE, "card": card_page.STYLE}
    return found | written | {"write-up": html_page.STYLE, "article": article_style.ARTICLE}


def rules(text):
    """Yield (selector, {property: colours}) of a style sheet, its own variables filled in."""
    plain = re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)
    found = [(select.strip(), dict(re.findall(r"([a-z][a-z0-9-]*|--[a-z-]+)\s*:\s*([^;]+)", body)))
             for select, body in re.findall(r"([^{}]+)\{([^{}]*)\}", plain)]  # fmt: skip
    known = dict(re.findall(r"(--[a-z-]+): ([^;]+);", plain.split('light="false')[0]))
    for select, told in found:
        filled = {name: re.sub(r"var\((--[a-z-]+)\)", lambda m: known.get(m[1], m[0]), value)
                  for name, value in told.items()}  # fmt: skip
        yield select, {name: HEX.findall(value.lower()) for name, value in filled.items()}


def unclear(text):
    """List the texts and lines of a style sheet that do not stand out from every ground it has."""
    read = list(rules(text))
    grounds = {each for _, told in read for each in told.get("background", [])}
    grounds = {"#fff"} | {each for each in grounds if luminance(each) > 0.7}
    found = []
    for select, told in read:
        under = set(told.get("background", [])) or grounds
        for name, colours in told.items():
            least = TEXT if name == "color" else LINE if name.startswith(("border", "outl")) else 0
            for each in set(colours) - FAINT - {"#fff"}:
                worst = min(contrast(each, ground) for ground in under)
                if worst < least:
                    found.append(f"{select} {{ {name}: {each} }}: {worst:.2f}")
    return found


@held_for(sheets())
def test_texts_and_lines_of_every_style_sheet_stand_out(name):
    assert unclear(sheets()[name]) == []


@pytest.mark.parametrize(
    "rule",
    [
        "p { color: #999 }",
        ":root { --soft: #999; } p { color: var(--soft); }",
        "div { background: #f2f2f2 } p { color: #767676 }",
        "input { border: 1px solid #ccc }",
        "p { color: #333; background: #777 }",
    ],
)
def test_what_does_not_stand_out_is_found(rule):
    assert len(unclear(rule)) == 1


def test_colours_of_drawings_charts_and_verdicts_stand_out():
    inks = {name: value for name, value in COLOURS.items() if name != "white"}
    for value in inks.values():
        assert contrast(value) >= TEXT  # words have a white edge wherever they are
        tinted = 0.13 * np.array([int(value[i : i + 2], 16) for i in (1, 3, 5)]) + 0.87 * 255
        assert contrast(value, "#" + "".join(f"{round(each):02x}" for each in tinted)) >= TEXT
        assert min(contrast(value, fill) for fill in FILLS.values()) >= LINE
    assert contrast(NOUGHT) >= LINE
    assert contrast(STYLE["text.color"]) >= TEXT and contrast(STYLE["xtick.color"]) >= TEXT
    for _, colour, _ in HOLDS.values():  # the sign's white strokes on it, and its edge on the page
        assert contrast(colour) >= LINE and contrast(colour, "#f2f2f2") >= LINE
        assert min(contrast(colour, ground) for ground in DARK) >= LINE


def test_no_colour_is_one_of_a_well_known_palette():
    used = {
        each.lower()
        for path in [*LIBRARY.rglob("*.css"), *LIBRARY.rglob("*.py"), *LIBRARY.rglob("*.js")]
        for each in HEX.findall(path.read_text(encoding="utf-8"))
    }
    assert len(used) > 40
    assert used & ({f"#{each}" for each in KNOWN.split()} - COMMON) == set()


def test_contrast_is_that_of_the_standard():
    # WCAG 2.2: 21 between black and white; #767676 is the lightest grey with 4.5 on white
    assert contrast("#000") == pytest.approx(21)
    assert contrast("#767676") >= 4.5 > contrast("#777777")
