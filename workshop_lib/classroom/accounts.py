"""How are learners' system accounts made? No shell, and a home that only they enter.

Linux itself then keeps one learner's work from another's, and keeps and checks the passwords.
"""

import contextlib
import os
import secrets
import shutil
import stat
import subprocess
import time
from pathlib import Path

from workshop_lib.classroom.places import PRIVATE, meeting_place, write_private
from workshop_lib.launcher.class_list import LETTERS
from workshop_lib.launcher.trouble import Trouble

with contextlib.suppress(ImportError):  # other systems lack it, and are told so in a sentence
    import pwd

GROUP = "sheet-disc-class"  # whoever is in it may sign in to the hub, and nobody else
NO_SHELL = "/usr/sbin/nologin"
# By this service the hub asks the system about passwords; why it is as it is stands in README.md.
SERVICE = Path("/etc/pam.d", GROUP)
SERVICE_TEXT = f"""# A class of the workbook: written by its command `class`.
auth     requisite  pam_succeed_if.so quiet user ingroup {GROUP}
auth     required   pam_unix.so nodelay
account  requisite  pam_succeed_if.so quiet user ingroup {GROUP}
account  required   pam_unix.so
"""
GROUPS, LETTERS_EACH = 3, 4  # 23 letters to the 12th: 54 bits
FIRST_PERSON, LAST_PERSON = 1000, 59_999  # below and above are the accounts of the system itself
TOOLS = ("groupadd", "groupdel", "newusers", "userdel", "chpasswd", "setpriv", "prlimit")


def refuse_unless_possible():
    """Refuse a machine that cannot keep its learners apart, and say what is needed."""
    if not hasattr(os, "geteuid") or not all(map(shutil.which, TOOLS)):
        raise Trouble(
            "a class needs Linux: a system account for each learner keeps them out of each other's "
            f"work. It is made and looked after by the tools {', '.join(TOOLS)}"
        )
    if os.geteuid() != 0:
        raise Trouble("a class needs administrator's rights, to make accounts: start it with sudo")


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


def learner(login, places):
    """Return the entry of a learner's account; refuse a login name that is none of this class."""
    if not belongs(login, places):
        raise Trouble(f"this class has no learner {login!r}: 'show' names them")
    return entry(login)


def refuse_taken(login, places):
    """Refuse a login name that stands for somebody else on this machine."""
    if entry(login) and not belongs(login, places):
        raise Trouble(
            f"this machine already has an account {login!r} that is not a learner's of this class: "
            "write another login name in the list, after a comma"
        )
    if not entry(login) and os.path.lexists(places.home(login)):
        raise Trouble(
            f"there is already a home {places.home(login)} without an account: move it elsewhere "
            "first, so that nobody is given somebody else's work"
        )


def add(passwords, places):
    """Make an account with its password, and a home, for each of these login names.

    `newusers` changes the system's files in one step: all are made, or none. A number that a
    learner once had is given to nobody else, who would own what was left of it outside the home.
    """
    tool("groupadd", "--force", GROUP)
    SERVICE.write_text(SERVICE_TEXT)
    SERVICE.chmod(0o644)
    used = [found.pw_uid for found in pwd.getpwall() if found.pw_uid <= LAST_PERSON]
    with contextlib.suppress(OSError, ValueError):
        used.append(int(places.highest.read_text()))
    first = max(FIRST_PERSON, *used) + 1
    lines = [
        f"{login}:{password}:{number}:{GROUP}:learner of a class:{places.home(login)}:{NO_SHELL}\n"
        for number, (login, password) in enumerate(passwords.items(), first)
    ]
    write_private(places.highest, str(first - 1 + len(lines)))
    try:
        tool("newusers", typed="".join(lines))  # a command line could be read by all
    except Trouble as refused:
        for login in passwords:  # it makes homes before it knows that all lines are good
            if not entry(login) and places.home(login).is_dir():
                places.home(login).rmdir()
        raise Trouble(f"{refused}. No account was made, and none of the passwords holds") from None
    for login in members(places):  # also of an earlier list, if that was broken off before this
        places.home(login).chmod(PRIVATE)
    set_passwords(passwords)


def remove(login, places):
    """Take an account away and move its home aside, unharmed; return where it is now."""
    account = learner(login, places)
    kept = places.left / f"{login}-{account.pw_uid}"  # a number that nobody gets again
    end_all(account)
    for own in (meeting_place(account), places.said(login)):
        with contextlib.suppress(OSError):
            own.unlink()
    tool("userdel", login)
    os.rename(places.home(login), kept)
    os.chown(kept, 0, 0)
    with contextlib.suppress(Trouble):  # while any account has the group, it stays
        tool("groupdel", GROUP)
        SERVICE.unlink(missing_ok=True)
    return kept


def end_all(account, tries=20):
    """End every process of an account, wherever it hides.

    A signal to all (-1), sent as that account, reaches them at one stroke; one after the other,
    they could start new ones faster than they end.
    """
    if account.pw_uid < FIRST_PERSON:
        raise Trouble(f"{account.pw_name!r} is not a learner")
    end = ["/bin/sh", "-c", "kill -KILL -1"]  # fails when there is none
    while tries and not run_as(account, end).returncode:
        tries -= 1
        time.sleep(0.05)


def run_as(account, command, **more):
    """Run a command with a learner's rights and no others, so that no link leads it elsewhere."""
    rights = {"user": account.pw_uid, "group": account.pw_gid, "extra_groups": [], "cwd": "/"}
    return subprocess.run(command, stderr=subprocess.DEVNULL, **rights, **more)


def refuse_unsafe_home(login, places):
    """Refuse to start anything for an account that is not a learner's, or whose home is open."""
    number, place = learner(login, places).pw_uid, places.home(login)
    home = os.lstat(place)
    alone = stat.S_ISDIR(home.st_mode) and home.st_uid == number and not home.st_mode & 0o077
    if not alone or number < FIRST_PERSON:
        raise Trouble(f"the home {place} is not {login}'s alone: set its rights to 700")


def first_password():
    """Return a random password that is easy to read and to type."""
    groups = ("".join(secrets.choice(LETTERS) for _ in range(LETTERS_EACH)) for _ in range(GROUPS))
    return "-".join(groups)


def set_passwords(passwords):
    """Give accounts their passwords, hashed quickly: that does for 54 random bits."""
    lines = "".join(f"{login}:{password}\n" for login, password in passwords.items())
    tool(
        "chpasswd", "--crypt-method", "SHA512", typed=lines
    )  # so a flood of wrong ones costs little


def tool(name, *arguments, typed=""):
    """Run one of the system's tools; what it refuses is said in its own words."""
    done = subprocess.run([name, *arguments], input=typed, capture_output=True, text=True)
    if done.returncode:
        said = done.stderr.strip().splitlines()[-1:] or [f"it ended with {done.returncode}"]
        raise Trouble(f"the system refused an account: {said[0]}")
