"""Every number has a source, and the source's standing is honest."""

import ast
import csv
import json
import re

import pytest

from tests.conftest import stand_in
from workshop_lib import materials, sources
from workshop_lib.quantities import InputError
from workshop_lib.sources import csv_tables


def test_every_source_says_what_it_is_and_how_far_it_goes():
    for source in sources.all_sources():
        assert source.standing in sources.STANDINGS
        assert source.reference
        assert len(source.short) < 45, source.key


# From the confidence column of the project's reference data: remembered, with or without an
# independent computation that agrees. None of these may pass for published.
REMEMBERED = (
    "shigley-screw shigley-clutch farkas-2003 iso-281-fc iso-76-f0 bearing-geometry harris-rba "
    "iso-16281 roark-1l leissa-1969 iso-1708 donaldson-1972 evans-1996 german-corrections "
    "jcgm-101 iso-4291 from-memory"
)
SEEN = (
    "us-code-15-206 swg-order-1883 bg-order-1914 awg-b258 smacna-galvanized iscar-turning-2017 "
    "rohm-rn1391 isakov-2013 woodstock-m1099 blau-2001 misumi-friction lust-cda3000 roymech-clutch "
    "juvinall-clutch xydas-1999 dahmen-2005 argatov-2005 skf-2018 nsk-catalogue ntn-2203 iso-5753 "
    "mitutoyo-2019 jis-b-0401 callister-b gere-tables gramoll-properties"
)


@pytest.mark.parametrize("key", REMEMBERED.split())
def test_what_was_not_seen_is_from_memory(key):
    assert sources.find_source(key).standing == "from memory"


@pytest.mark.parametrize("key", SEEN.split())
def test_what_was_seen_is_published(key):
    assert sources.find_source(key).standing == "published"


def test_every_remembered_source_owns_up_in_its_note():
    silent = [
        source.key
        for source in sources.all_sources()
        if source.standing == "from memory" and not (source.note or "textbook" in source.reference)
    ]
    assert silent == []


# Where homework, scans and copies are shared, texts are spun or translated, and programs explained.
# The publication itself is the source, and a copy of it is a word in the note.
NO_SOURCE = (
    "scribd. coursehero. chegg. askfilo. pdfcoffee. studylib docslib. dokumen.tips documents.pub "
    "vdocuments. docplayer. slideshare. issuhub. yumpu. cupdf. pdfslide. ilovetranslation. "
    "tomesphere. bitlit. digilib. manualslib. manualshive. manualsdump. easymanua.ls steelcam. "
    "who-sells-it. scienceinsights. liquisearch. theinfolist. infinitelexicon. vapetrotter. "
    "expertsmind. blogspot. wordpress. offroaders. dukedog. github. rdrr. mathworks. autodesk. "
    "wolfram. maplesoft. ptfonseca. calculator calc. tpub. chestofbooks. pickedshares. lon-so. "
    "themechanicalengineeringhandbook. nck-bearings."
)
LOG = r"stored|column heads|stripped|scrambled|OCR|excerpt cut|page without an address|dummy|TODO"


def test_no_source_is_a_copy_shared_a_page_spun_or_a_program():
    for source in sources.all_sources():
        for address in re.findall(r"https?://\S+", f"{source.reference} {source.note}"):
            assert [host for host in NO_SOURCE.split() if host in address] == [], source.key


def test_a_note_is_a_librarians():
    for source in sources.all_sources():
        assert not re.search(LOG, source.note), source.key
        assert source.note and source.note.endswith("."), source.key


def test_a_note_names_no_key():
    """A page shows a source's name and never its key, so a note must not send a reader to one."""
    keys = {source.key for source in sources.all_sources() if "-" in source.key}
    said = []
    for path in csv_tables.BUILT_IN.glob("*.csv"):
        with path.open(encoding="utf-8", newline="") as file:
            said += [(path.name, row.get("note") or "") for row in csv.DictReader(file)]
    named = [(name, note) for name, note in said if keys & set(re.findall(r"[a-z0-9-]+", note))]
    assert len(said) > 500 and named == []


# Makers are named in full references alone; lessons and verdicts cite by the short name.
MAKERS = (
    "SKF NSK NTN FAG Schaeffler Sandvik ISCAR Iscar Mitutoyo Röhm SCHUNK Schunk MISUMI Misumi Lust "
    "Cosmec Grizzly Woodstock Taig Taylor WIB Daishowa Sumitomo"
)


def test_a_short_name_names_no_maker():
    for source in sources.all_sources():
        assert not set(re.findall(r"\w+", source.short)) & set(MAKERS.split()), source.key


def test_only_a_list_of_sources_names_a_maker():
    top = csv_tables.BUILT_IN.parents[1]
    named = re.compile(rf"\b({'|'.join(MAKERS.split())})\b")
    said = {}
    for path in (top / "notebooks").rglob("*.ipynb"):
        for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
            if "sources_used(" not in "".join(cell["source"]):
                said[f"{path.name}, {cell['id']}"] = json.dumps(cell, ensure_ascii=False)
    written = {path for end in ("py", "js") for path in (top / "workshop_lib").rglob(f"*.{end}")}
    written |= {top / "README.md", *(top / "figures").glob("*.svg")}
    written |= {path for end in ("md", "toml") for path in (top / "notebooks").rglob(f"*.{end}")}
    said |= {str(path.relative_to(top)): path.read_text(encoding="utf-8") for path in written}
    assert [name for name, text in said.items() if named.search(text)] == []


def test_a_value_is_as_firm_as_its_weakest_source():
    assert sources.standing("swg-order-1883") == "published"
    assert sources.standing("swg-order-1883 common-practice") == "common practice"
    assert sources.standing("from-memory swg-order-1883 common-practice") == "from memory"


def test_a_citation_names_each_source_and_its_standing():
    assert sources.cite("dahmen-2005") == "Dahmen and others 2005 (published)"
    assert sources.cite("dahmen-2005 common-practice").endswith("; common practice")


def test_a_source_in_full_gives_reference_standing_and_note():
    source = sources.find_source("dahmen-2005")
    assert source.reference in str(source)
    assert "[published]" in str(source)
    assert source.note in str(source)


@pytest.mark.parametrize("key", ["", "dahmen", None, 7, "dahmen-2005 from-memory", "DAHMEN-2005"])
def test_an_unknown_key_is_refused(key):
    with pytest.raises(InputError, match="^source: "):
        sources.find_source(key)


def test_a_misspelt_key_is_answered_with_the_right_one():
    with pytest.raises(InputError, match="Did you mean dahmen-2005"):
        sources.find_source("dahmen_2005")
    with pytest.raises(InputError, match=r"sources\.all_sources\(\) lists them"):
        sources.find_source("zzz")


@pytest.mark.parametrize("keys", ["", "   ", None, ["dahmen-2005"], "dahmen-2005 zzz"])
def test_a_citation_of_nothing_or_of_an_unknown_source_is_refused(keys):
    for call in (sources.cite, sources.standing, sources.find_all):
        with pytest.raises(InputError, match="^source: "):
            call(keys)


@pytest.mark.parametrize(
    "path", sorted(csv_tables.BUILT_IN.glob("*.csv")), ids=lambda path: path.name
)
def test_every_source_in_a_table_is_known(path):
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    columns = [title for title in rows[0] if title.endswith("source")]
    assert columns or path.name in ("sources.csv", "words.csv"), "words have no source"
    for row in rows:
        for column in columns:
            assert sources.find_all(row[column])


def test_every_source_is_used_by_a_table_a_docstring_or_a_lesson():
    top = csv_tables.BUILT_IN.parents[1]
    files = [path for path in csv_tables.BUILT_IN.glob("*.csv") if path.name != "sources.csv"]
    files += [*(top / "workshop_lib").rglob("*.py"), *(top / "notebooks").rglob("*.ipynb")]
    said = set()
    for path in files:
        said |= set(re.findall(r"[a-z0-9]+(?:-[a-z0-9]+)*", path.read_text(encoding="utf-8")))
    assert [source.key for source in sources.all_sources() if source.key not in said] == []


def test_plastics_lie_within_what_two_sources_print():
    # kg/m³, GPa, MPa: the least and the greatest of Callister's appendix B, Dowling's table 5.2 and
    # the data sheets. A yield below what is printed is on the safe side.
    printed = {
        "acrylic": ((1190, 1190), (2.2, 3.24), 73.1),
        "polycarbonate": ((1200, 1200), (2.3, 2.4), 62),
        "pvc": ((1300, 1580), (2.2, 4.1), 44.8),
    }
    for key, (density, modulus, strongest) in printed.items():
        core = materials.find_material(key).core
        assert density[0] <= core.density <= density[1], key
        assert modulus[0] <= core.youngs_modulus / 1e9 <= modulus[1], key
        assert 0.5 * strongest < core.yield_strength / 1e6 <= strongest, key


def test_every_source_in_a_docstring_is_known():
    known, cited = {source.key for source in sources.all_sources()}, set()
    written = (
        path.read_text(encoding="utf-8") for path in csv_tables.BUILT_IN.parent.rglob("*.py")
    )
    for text in filter(re.compile("Sources?: ").search, written):
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.Module | ast.FunctionDef | ast.ClassDef):
                said = ast.get_docstring(node) or ""
                for told in re.findall(r"Sources?: (.*?)(?:\n\n|\n *>>>|$)", said, re.DOTALL):
                    cited |= set(re.findall(r"\b[a-z][a-z0-9]*(?:-[a-z0-9.]*[a-z0-9])+", told))
    assert len(cited) > 60 and cited - known == set()


# The table itself, spoilt by a teacher's hand

HEAD = "key,short,standing,reference,note\n"
BAD = [
    ("lathe-book,Lathe book,seen,A book,\n", "line 2: standing ‘seen’ is not"),
    ("lathe-book,Lathe book,published,,\n", "line 2: reference is empty"),
    ("lathe-book,,published,A book,\n", "line 2: short is empty"),
    ("Lathe Book,Lathe book,published,A book,\n", "line 2: key ‘Lathe Book’ cannot be a key"),
    ("a-1,A,published,A book,\na-1,B,published,B,\n", "line 3: ‘a-1’ is in line 2 already"),
]


@pytest.mark.parametrize(("rows", "said"), BAD)
def test_a_bad_source_is_named_by_its_line(tmp_path, monkeypatch, rows, said):
    (tmp_path / "sources.csv").write_text(HEAD + rows, encoding="utf-8")
    stand_in(monkeypatch, tmp_path)
    with pytest.raises(InputError, match=f"^sources.csv, {said}"):
        sources.all_sources()
