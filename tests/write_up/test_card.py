"""The card for the machine: its numbers are the job's, and what is not yet answered leads."""

import re

import pytest

from tests.house.laws import held_for
from tests.plan.job_cases import FILES, SCREW, full, plain
from workshop_lib import plan, shop, write_up
from workshop_lib.plan import QUESTIONS
from workshop_lib.quantities import InputError, speaking
from workshop_lib.write_up import card_page
from workshop_lib.write_up.card_contents import (
    MOST_TOLD,
    USUAL,
    blank_picture,
    card_of,
    fitted,
    set_up_picture,
)


def carded(job):
    with job.speaking_one():
        return card_of(plan.assess(job, draws=0))


@held_for(FILES)
def test_a_card_of_the_demonstration_says_what_its_job_says(path):
    job = plan.load(path)
    card = carded(job)
    settings, sheet = dict(card.settings), dict(card.sheet)
    assert settings["Speed"].startswith(f"{job['cut.speed'].m:g} rev/min")
    assert f"{job['pad.outer_diameter'].m:g} mm" in settings["Pad"]
    assert f"{job['disc.diameter'].m:g} mm" in sheet["Disc"]
    assert card.passes[0][0] == "1" and card.passes[-1][0].split()[-1] == str(len(job.passes))
    least = min(float(row[3]) for row in card.passes)
    assert least <= float(job.passes.worst.margin) < least + 0.1
    assert card.not_yet == () and set(USUAL) <= set(card.cautions)
    assert all(not each.faults() for each in card.pictures)


@held_for(["square", "outline", "plunge"])
def test_sketches_hold_every_word_within_their_sheet(way):
    job = full(way)
    for units in ("metric", "inch"):
        with speaking(units), job.speaking_one():
            for each in (blank_picture(job), set_up_picture(job)):
                assert not each.faults(), (way, units)


def test_snips_make_an_octagon_of_the_square():
    # By hand: 100 mm across the flats, sides 100 (√2 − 1) = 41.42 mm, snips (100 − 41.42) / 2.
    card = carded(plain(blank__corners=8, blank__across_flats="100 mm", disc__diameter="98 mm"))
    assert "29.3 mm cut off each corner" in dict(card.sheet)["Blank"]
    assert "29.3 mm" in card.pictures[0].alt
    assert "6 equal sides" in dict(carded(plain()).sheet)["Blank"]


def test_passes_stand_where_the_corners_end():
    # Flats at 52 mm; pass 40 ends at 60.04 − 8 = 52.04 mm; pass 41 cuts all round.
    rows = carded(plain()).passes
    assert [row[0] for row in rows] == ["1", "2 to 20", "21 to 40", "41 to 50", "51"]
    assert [row[2] for row in rows] == ["6", "6", "6", "none", "none"]


def test_every_way_of_giving_the_thrust_says_what_to_pull():
    told = {
        "find with a scale": plain(),
        "same pull": plain(measured__scale_readings=["790 N", "805 N", "805 N"]),
        "5 N·m on the handwheel": plain(
            thrust__force=None, thrust__handwheel_torque="5 N m", thrust__screw=SCREW
        ),
    }
    for words, job in told.items():
        found = dict(carded(job).settings)["Pull needed"]
        assert set(words.split()) <= set(found.split()), found


SHOP = """
[lathe]
speeds = ["45 rev/min", "90 rev/min", "180 rev/min", "360 rev/min"]
calibration = { pulls = ["20 N", "40 N", "60 N"], thrusts = ["400 N", "800 N", "1200 N"] }
"""


def test_a_calibrated_lathe_is_told_the_pull_for_a_thrust():
    # 400 N at 20 N, 800 N at 40 N: twenty times the pull.
    own = shop.parse(SHOP)
    entries = plain().values
    job = plan.job({key: value for key, value in entries.items() if key != "cut.speed"}, own)
    settings = dict(carded(job).settings)
    assert settings["Pull needed"].startswith("40 N, pull on the handle")
    assert re.match("45|90|180|360", settings["Speed"])


def test_what_is_not_yet_answered_stands_across_the_top(tmp_path):
    job = plain(thrust__force="90 N", nose__plate_diameter=None, cut__speed="2500 rev/min")
    card, found = carded(job), plan.assess(job, draws=0)
    open_ones = [QUESTIONS[each.about] for each in found.reasons if each.holds != "yes"]
    assert [row[0] for row in card.not_yet[:MOST_TOLD]] == open_ones[:MOST_TOLD]
    assert card.not_yet[-1][0] == f"And {len(open_ones) - MOST_TOLD} more"
    text = write_up.write_card(job, tmp_path).read_text(encoding="utf-8")
    assert text.index("Not yet") < text.index("<h1>") and "do not run" in text
    ready = write_up.write_card(plain(), tmp_path / "new" / "folder").read_text(encoding="utf-8")
    assert "Not yet" not in ready
    thin = plain(nose__plate_diameter=None)
    assert "Not yet<" in write_up.write_card(thin, tmp_path).read_text(encoding="utf-8")


@held_for(["W" * 200, "a b " * 50, "<script>alert(1)</script>" * 8, "x"])
def test_a_persons_words_keep_to_their_room(words):
    found = fitted(words, "title")
    assert found == words.strip() or found.endswith("…")
    assert len(found) <= 200


def test_a_title_never_becomes_markup(tmp_path):
    text = write_up.write_card(plain(about__title="<script>x</script>"), tmp_path).read_text()
    assert "<script" not in text and "&lt;script" in text


@held_for(FILES)
def test_a_card_in_inches_names_no_millimetre(path):
    with speaking("inch"):
        card = carded(plan.load(path))
    rows = [cell for row in (*card.sheet, *card.settings, *card.passes) for cell in row]
    words = " ".join([*rows, *card.looks, *(each.alt for each in card.pictures)])
    assert not re.search(r"[0-9] ?(mm|N|MPa)\b", words)


def test_the_command_writes_cards_and_refuses_in_words(tmp_path, capsys):
    assert card_page.main([*map(str, FILES), "--folder", str(tmp_path / "cards")]) == 0
    assert len(list((tmp_path / "cards").glob("*_card.html"))) == len(FILES)
    assert card_page.main([str(tmp_path / "none.toml")]) == 2
    assert "none.toml" in capsys.readouterr().err
    with pytest.raises(InputError, match="folder"):
        write_up.write_card(plain(), FILES[0])


def test_a_card_replaces_only_its_own(tmp_path):
    first = write_up.write_card(plain(), tmp_path)
    assert write_up.write_card(plain(), tmp_path) == first
    first.write_text("mine")
    assert write_up.write_card(plain(), tmp_path) != first and first.read_text() == "mine"
