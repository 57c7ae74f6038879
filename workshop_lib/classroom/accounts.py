"""The learners' system accounts: no shell, and a home that only they enter.

Linux itself then keeps one learner's work from another's, and keeps and checks the passwords.
"""

import contextlib
import os
import secrets
import shutil
import stat
import subprocess
from pathlib import Path

from workshop_lib.classroom.places import PRIVATE
from workshop_lib.launcher.trouble import Trouble

with contextlib.suppress(ImportError):  # other systems lack them, and are told so in a sentence
    import grp
    import pwd

GROUP = "sheet-disc-class"  # whoever is in it may sign in to the hub, and nobody else
COMMENT = "learner of a class"
NO_SHELL = "/usr/sbin/nologin"
# The hub asks the system about passwords by this service, which knows no other account: without it,
# the hub's page would tell anybody whether they had guessed root's password.
SERVICE = Path("/etc/pam.d", GROUP)
SERVICE_TEXT = f"""# A class of the workbook: written by its command `class`.
auth     requisite  pam_succeed_if.so quiet user ingroup {GROUP}
auth     required   pam_unix.so
account  requisite  pam_succeed_if.so quiet user ingroup {GROUP}
account  required   pam_unix.so
"""
LETTERS = "abcdefghjkmnpqrstuvwxyz"  # none that looks like another
GROUPS, LETTERS_EACH = 3, 4  # 23 letters to the 12th: 54 bits
FIRST_PERSON = 1000  # below it are the accounts of the system itself
TOOLS = ("groupadd", "groupdel", "useradd", "userdel", "chpasswd")


def refuse_unless_possible():
    """Refuse a machine that cannot keep its learners apart, and say what is needed."""
    if not hasattr(os, "geteuid") or not all(map(shutil.which, TOOLS)):
        raise Trouble(
            "a class needs Linux: each learner's work is kept from the others' by a system account "
            "of its own, made with useradd"
        )
    if os.geteuid() != 0:
        raise Trouble(
            "a class needs the rights of the machine's administrator, to make an account for each "
            "learner: start it with sudo"
        )


def entry(login):
    """Return the system's entry of an account, or None."""
    try:
        return pwd.getpwnam(login)
    except KeyError:
        return None


def belongs(login, places):
    """Return whether an account was made for this class."""
    found = entry(login)
    return bool(found) and found.pw_dir == str(places.home(login))


def members(places):
    """Return the login names of this class, in order."""
    return sorted(
        found.pw_name for found in pwd.getpwall() if found.pw_dir == str(places.home(found.pw_name))
    )


def refuse_taken(login, places):
    """Refuse a login name that stands for somebody else on this machine."""
    if entry(login) and not belongs(login, places):
        raise Trouble(
            f"this machine already has an account {login!r} that is not a learner's of this class: "
            "write another login name in the list, after a comma"
        )
    if not entry(login) and os.path.lexists(places.home(login)):
        raise Trouble(
            f"there is a home {places.home(login)} without an account: move it elsewhere first, so "
            "that nobody is given another's work"
        )


def make_service():
    """Make what all accounts share: their group, and the service that checks passwords."""
    tool("groupadd", "--force", GROUP)
    SERVICE.write_text(SERVICE_TEXT)
    SERVICE.chmod(0o644)


def tidy():
    """Take away what the accounts shared once the last one is gone."""
    try:
        if not grp.getgrnam(GROUP).gr_mem:
            tool("groupdel", GROUP)
            SERVICE.unlink(missing_ok=True)
    except KeyError:
        return


def add(login, places):
    """Make the account and the home of a learner; return whether there was none before."""
    refuse_taken(login, places)
    if belongs(login, places):
        return False
    home = places.home(login)
    options = ["--no-create-home", "--user-group", "--groups", GROUP, "--shell", NO_SHELL]
    tool("useradd", *options, "--comment", COMMENT, "--home-dir", str(home), login)
    found = entry(login)
    home.mkdir(mode=PRIVATE)
    home.chmod(PRIVATE)
    os.chown(home, found.pw_uid, found.pw_gid)
    return True


def remove(login, places):
    """Take an account away and move its home aside, unharmed; return where it is now."""
    if not belongs(login, places):
        raise Trouble(f"this class has no learner {login!r}")
    number, kept = 1, places.left / login
    while os.path.lexists(kept):
        number += 1
        kept = places.left / f"{login}-{number}"
    tool("userdel", login)
    os.rename(places.home(login), kept)
    os.chown(kept, 0, 0)  # the number of the account may be given to somebody else one day
    tidy()
    return kept


def refuse_unsafe_home(login, places):
    """Refuse to start anything for an account that is not a learner's, or whose home is open."""
    found = entry(login)
    if not found or not belongs(login, places) or found.pw_uid < FIRST_PERSON:
        raise Trouble(f"{login!r} is not the account of a learner of this class")
    home = os.lstat(found.pw_dir)
    if not stat.S_ISDIR(home.st_mode) or home.st_uid != found.pw_uid or home.st_mode & 0o077:
        raise Trouble(f"the home {found.pw_dir} is not {login}'s alone: set its rights to 700")


def first_password():
    """Return a random password that is easy to read and to type."""
    groups = ("".join(secrets.choice(LETTERS) for _ in range(LETTERS_EACH)) for _ in range(GROUPS))
    return "-".join(groups)


def set_passwords(passwords):
    """Give accounts their passwords; the system keeps them hashed."""
    lines = [f"{login}:{password}" for login, password in passwords.items()]
    tool("chpasswd", typed="\n".join(lines) + "\n")  # a command line could be read by all


def tool(name, *arguments, typed=""):
    """Run one of the system's tools; what it refuses is said in its own words."""
    done = subprocess.run([name, *arguments], input=typed, capture_output=True, text=True)
    if done.returncode:
        said = done.stderr.strip().splitlines()[-1:] or [f"it ended with {done.returncode}"]
        raise Trouble(f"the system refused an account: {said[0]}")
