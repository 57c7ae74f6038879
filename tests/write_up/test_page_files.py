"""Where a write-up goes: named after its job, and never in the place of something else."""

import os

import pytest

from tests.plan.job_cases import plain
from workshop_lib import plan, write_up
from workshop_lib.quantities import InputError
from workshop_lib.write_up import html_page, markdown_page
from workshop_lib.write_up.page_files import origin

FORMS = pytest.mark.parametrize("form", write_up.FORMS)


def saved(job, path):
    """The job, once it stands in a file."""
    plan.save(job, path)
    return job


@FORMS
def test_an_earlier_page_of_the_same_job_is_replaced(form, tmp_path):
    for job in (plain(), saved(plain(), tmp_path / "lid.toml")):
        path = write_up.write(job, tmp_path, form)
        more = {"about.made_by": "somebody", "thrust.force": "700 N"}
        assert write_up.write(job.changed(more), tmp_path, form) == path
        assert "By somebody" in path.read_text(encoding="utf-8")
        assert write_up.why_numbered(job, path) == ""


@FORMS
def test_a_page_is_named_after_its_jobs_file_and_else_after_its_title(form, tmp_path):
    job = plain()
    assert write_up.write(job, tmp_path, form).stem == "a_plain_disc"
    saved(job, tmp_path / "My lid.toml")
    assert write_up.write(job, tmp_path, form).stem == "my_lid"
    again = plan.load(tmp_path / "My lid.toml")
    assert again.file == (tmp_path / "My lid.toml").resolve()
    assert write_up.write(again, tmp_path, form).stem == "my_lid"
    assert write_up.write(again.changed({"about.title": "Other"}), tmp_path, form).stem == "other"


@FORMS
def test_a_page_of_another_job_is_never_replaced(form, tmp_path):
    folders = [tmp_path / name for name in ("anna", "ben", "pages")]
    for folder in folders:
        folder.mkdir()
    jobs = [saved(plain(about__made_by=f.name), f / "lid.toml") for f in folders[:2]]
    jobs.append(plain(about__title="Lid", about__made_by="nobody"))
    written = [write_up.write(job, folders[2], form) for job in jobs]
    assert [path.stem for path in written] == ["lid", "lid_2", "lid_3"]
    for job, path in zip(jobs, written, strict=True):
        assert f"By {job['about.made_by']}." in path.read_text(encoding="utf-8")
        assert write_up.write(job, folders[2], form) == path
    first, *others = (write_up.why_numbered(*each) for each in zip(jobs, written, strict=True))
    assert first == "" and all("not come from this" in each for each in others)


@pytest.mark.parametrize("content", ["<p>My own page.</p>", ""])
def test_a_page_of_ones_own_is_never_replaced(content, tmp_path):
    mine = tmp_path / "a_plain_disc.html"
    mine.write_text(content)
    assert write_up.write(plain(), tmp_path).name == "a_plain_disc_2.html"
    (tmp_path / "a_plain_disc" / "figures").mkdir(parents=True)
    assert write_up.write(plain(), tmp_path, "markdown").name == "a_plain_disc_2.md"
    assert mine.read_text() == content
    assert list((tmp_path / "a_plain_disc" / "figures").iterdir()) == []


@FORMS
def test_a_folder_that_is_moved_with_job_and_page_keeps_one_page(form, tmp_path):
    (tmp_path / "here").mkdir()
    job = saved(plain(), tmp_path / "here" / "lid.toml")
    before = write_up.write(job, tmp_path / "here", form).relative_to(tmp_path / "here")
    (tmp_path / "here").rename(tmp_path / "there")
    moved = plan.load(tmp_path / "there" / "lid.toml")
    assert write_up.write(moved, tmp_path / "there", form) == tmp_path / "there" / before


@FORMS
def test_a_page_tells_nothing_of_the_folders_that_it_was_made_in(form, tmp_path):
    secret, pages = tmp_path / "grandmother", tmp_path / "pages"
    secret.mkdir()
    pages.mkdir()
    path = write_up.write(saved(plain(), secret / "lid.toml"), pages, form)
    assert "grandmother" not in path.read_text(encoding="utf-8")
    assert "lid.toml" not in path.read_text(encoding="utf-8")


@FORMS
def test_a_title_that_looks_like_a_mark_takes_no_other_jobs_page(form, tmp_path):
    other = plain(about__title="Lid")
    for mark in (html_page.mark, markdown_page.mark):
        page = write_up.write(plain(about__title="Lid."), tmp_path, form)
        forged = plain(about__title=f"Lid {mark(origin(other, tmp_path))}")
        page.write_text((html_page if form == "html" else markdown_page).page(
            forged["about.title"], []), encoding="utf-8")  # fmt: skip
        assert write_up.write(other, tmp_path, form) != page


def test_a_place_that_is_no_folder_is_refused(tmp_path):
    file = tmp_path / "file"
    file.write_text("")
    for folder in (file, file / "below", "a\0b", None, 5):
        for form in write_up.FORMS:
            with pytest.raises(InputError, match="folder"):
                write_up.write(plain(), folder, form)
    with pytest.raises(InputError, match="form"):
        write_up.write(plain(), tmp_path, "pdf")
    with pytest.raises(InputError, match="is not a job"):
        write_up.write("job.toml", tmp_path)
    assert list(tmp_path.iterdir()) == [file]


@FORMS
def test_a_folder_that_is_not_there_is_made(form, tmp_path):
    path = write_up.write(plain(), tmp_path / "new" / "pages", form)
    assert path.is_file() and tmp_path / "new" / "pages" in path.parents


def test_a_file_in_the_way_of_the_pictures_is_told(tmp_path):
    figures = write_up.write(plain(), tmp_path, "markdown").parent / "figures"
    figures.rename(tmp_path / "away")
    figures.write_text("mine")
    with pytest.raises(InputError, match="cannot be written to"):
        write_up.write(plain(), tmp_path, "markdown")
    assert figures.read_text() == "mine"


def test_a_folder_that_may_not_be_written_to_is_told(tmp_path):
    tmp_path.chmod(0o555)
    try:
        if os.access(tmp_path, os.W_OK):
            pytest.skip("this account may write everywhere")
        with pytest.raises(InputError, match="cannot be written to"):
            write_up.write(plain(), tmp_path)
    finally:
        tmp_path.chmod(0o755)
