"""One address for all, or one for each: what a classmate's page can do to whoever opens it.

In a real browser, against a real class of two; on request, as in test_classroom_attacks.py.
"""

import contextlib
import re
import subprocess

import pytest
from playwright.sync_api import sync_playwright

from tests.browser.lab import flags
from tests.classroom import classroom_stage
from tests.classroom.classroom_mischief import POSE
from tests.classroom.classroom_stage import ANN, ASKED, BEN
from tests.classroom.test_classroom_settings import certify
from workshop_lib.classroom import accounts
from workshop_lib.launcher import browser

pytestmark = pytest.mark.skipif(
    not ASKED, reason="attacks a real class: set WORKSHOP_CLASS_TEST=1 and run as root to have it"
)


@contextlib.contextmanager
def signed_in(chromium, stage, address, login):
    """Sign in with a browser's window of its own; gives its page when JupyterLab is there."""
    window = chromium.new_context(ignore_https_errors=True)
    page = window.new_page()
    page.goto(f"{address}/hub/login")
    page.fill("#username_input", login)
    page.fill("#password_input", stage.passwords[login])
    page.click("#login_submit")
    page.wait_for_url(re.compile(f"/user/{login}/lab"), timeout=60_000)
    yield page
    window.close()


@contextlib.contextmanager
def posing(login, address):
    """Let a learner's own program take the place of the learner's server; gives what it prints."""
    account = accounts.entry(login)
    server = classroom_stage.processes(account.pw_uid)[0]
    options = {"user": account.pw_uid, "group": account.pw_gid, "extra_groups": [], "cwd": "/"}
    command = [classroom_stage.python_for_all(), "-I", "-c", POSE, str(server), address]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, **options) as thief:
        try:
            assert thief.stdout.readline() == "ready\n"
            yield thief.stdout
        finally:
            thief.kill()


@pytest.mark.parametrize("domain", ["", "class.localhost"])
def test_only_a_domain_keeps_a_classmates_page_from_acting_in_ones_name(stage, domain):
    """Without one it can: that is what the page for teachers says, and this shows that it is so."""
    program = browser.find()
    if not program:
        pytest.skip(browser.MISSING)
    address = f"http://{domain or '127.0.0.1'}:{stage.port}"
    own = f"http://{ANN}.{domain}:{stage.port}" if domain else address
    with (
        stage.open(*(["--domain", domain] if domain else [])),
        sync_playwright() as playwright,
        contextlib.closing(
            playwright.chromium.launch(executable_path=program, args=flags())
        ) as chromium,
        signed_in(chromium, stage, address, ANN),
        signed_in(chromium, stage, address, BEN) as page,
        posing(ANN, address) as said,
    ):
        for _ in range(10):  # the proxy may hold a connection to the server that is no more
            if page.goto(f"{own}/user/{ANN}/look").ok:
                break
        told = said.readline()
        assert (BEN in told) == (not domain), told
        if domain:
            assert "TypeError" in told  # the browser gave the page no answer


def test_with_a_domain_and_a_certificate_no_classmates_page_signs_one_in_as_somebody_else(
    stage, tmp_path
):
    """A page may set cookies for the whole domain, and so hand its owner's sign-in to a visitor.

    The visitor's work would then lie in the owner's home.
    """
    program = browser.find()
    if not program:
        pytest.skip(browser.MISSING)
    domain = "class.localhost"
    files = certify(tmp_path, domain, f"*.{domain}")
    options = [word for name, file in files.items() for word in (f"--{name}", file)]
    address = f"https://{domain}:{stage.port}"
    with (
        stage.open("--domain", domain, *options),
        sync_playwright() as playwright,
        contextlib.closing(
            playwright.chromium.launch(executable_path=program, args=flags())
        ) as chromium,
        signed_in(chromium, stage, address, ANN) as own,
        signed_in(chromium, stage, address, BEN) as page,
    ):
        mine = {each["name"]: each["value"] for each in own.context.cookies(f"{address}/hub/home")}
        signs = [name for name in mine if "hub-login" in name]
        assert len(signs) == 1
        page.goto(f"https://{ANN}.{domain}:{stage.port}/favicon.ico")
        for name in (signs[0], signs[0].removeprefix("__Host-")):
            for path in ("/", "/hub/", "/hub/home"):
                tossed = f"{name}={mine[signs[0]]}; domain={domain}; path={path}; secure"
                page.evaluate("text => { document.cookie = text }", tossed)
        page.goto(f"{address}/hub/home")
        assert BEN in page.content() and ANN not in page.content()
