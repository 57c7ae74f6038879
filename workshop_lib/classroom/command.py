"""What can a teacher type after `class`, and what comes back?"""

import argparse
import os
import stat
import subprocess
from pathlib import Path

from workshop_lib.classroom import accounts, hub
from workshop_lib.classroom.places import PRIVATE, USUAL_FOLDER, Places, write_private
from workshop_lib.classroom.seat import LESSONS
from workshop_lib.classroom.settings import Wish, refuse_unsafe
from workshop_lib.launcher import answers, class_list
from workshop_lib.launcher.environment import say
from workshop_lib.launcher.trouble import Trouble

MOST, SECONDS = 4_000_000, 5  # bytes of an answer file; how long reading it may take


def main(arguments):
    """Do what the teacher asked for; return an exit status."""
    asked = parser().parse_args(arguments)
    accounts.refuse_unless_possible()
    return asked.act(Places(asked.folder), asked) or 0


def parser():
    """Return the reader of the command line."""
    top = argparse.ArgumentParser(
        prog="python3 -m workshop_lib class",
        description="Many learners at once on one Linux machine, each behind a password of their "
        "own. First 'add' a class list, then 'start'.",
    )
    words = "where the class and all its work lies (usually %(default)s)"
    top.add_argument("--folder", default=USUAL_FOLDER, help=words)
    acts = top.add_subparsers(required=True, metavar="add | start | password | remove | …")

    def act(does, name, words):
        made = acts.add_parser(name, help=words)
        made.set_defaults(act=does)
        return made

    add = act(add_learners, "add", "add the learners of a list and print their passwords")
    add.add_argument("list", help="a text or CSV file: a name on each line, or name, login name")
    words = "learners already in the class start again, with an empty home and a new password"
    add.add_argument("--fresh", action="store_true", help=words)
    start = act(start_class, "start", "open the class, until Ctrl-C")
    for name, words in OPTIONS.items():
        usual = getattr(Wish(), name)
        said = f"{words} (usually {usual})" if usual else words
        start.add_argument(f"--{name}", type=type(usual), default=usual, help=said)
    words = "open to the classroom's network, not to this machine only"
    start.add_argument("--network", action="store_true", help=words)
    words = "go on the network without a certificate: everybody there can read all"
    start.add_argument("--unencrypted", dest="encrypted", action="store_false", help=words)
    password = act(new_password, "password", "give a learner a new password")
    words = "take a learner's account away; the work is kept"
    leave = act(lambda places, asked: take_away(asked.login, places), "remove", words)
    for each in (password, leave):
        each.add_argument("login", help="the learner's login name")
    gather = act(gather_answers, "answers", "gather the answer files, for the overview")
    gather.add_argument("to", type=Path, help="the folder that gets them, for your eyes only")
    act(show_class, "show", "say who is in the class and where the work lies")
    return top


OPTIONS = {
    "port": "where the class listens",
    "domain": "the class's name on the network: each learner's pages then have an address of their "
    "own (it and *.DOMAIN must lead here, and be named by the certificate)",
    "certificate": "TLS certificate, a PEM file",
    "key": "the certificate's key, a PEM file",
    "memory": "MB for each learner",
    "idle": "minutes after which an unused server ends",
}


def start_class(places, asked):
    """Open the class and stay until it is closed."""
    wish = Wish(**{name: getattr(asked, name) for name in Wish._fields})
    refuse_unsafe(wish)
    if not accounts.members(places):
        raise Trouble("nobody is in this class yet: add a class list first")
    places.make()
    return hub.run(places, wish)


def add_learners(places, asked):
    """Add the learners of a list, all or none, and print the passwords of the new ones.

    They are printed first: however it is broken off, nobody has an account and no password.
    """
    learners = class_list.read(asked.list)
    for learner in learners:
        accounts.refuse_taken(learner.login, places)
    places.make()
    for learner in learners:
        if asked.fresh and accounts.entry(learner.login):
            take_away(learner.login, places)
    new = [learner for learner in learners if not accounts.entry(learner.login)]
    passwords = {learner.login: accounts.first_password() for learner in new}
    name, login = (max((len(one[part]) for one in new), default=0) for part in (0, 1))
    for one in new:
        say(f"{one.name:{name}}  {one.login:{login}}  {passwords[one.login]}")
    if new:
        say("These passwords are shown only now: print them, or cut them into slips.")
    accounts.add(passwords, places)
    known = len(learners) - len(new)
    say(f"{len(new)} added" + (f", {known} were in the class already." if known else "."))


def new_password(places, asked):
    """Give one learner a new password and print it; the sessions of the old one end."""
    accounts.learner(asked.login, places)
    password = accounts.first_password()
    accounts.set_passwords({asked.login: password})
    hub.forget(places, asked.login)
    say(f"{asked.login}  {password}")


def take_away(login, places):
    """End all that one learner has here; the work stays, where only the administrator reads it."""
    accounts.learner(login, places)
    places.make()
    accounts.tool("chpasswd", "--encrypted", typed=f"{login}:!\n")  # nobody signs in any more
    hub.forget(places, login)
    kept = accounts.remove(login, places)
    say(f"{login} is removed; the work is kept in {kept}.")


def gather_answers(places, asked):
    """Copy each learner's answer file into a folder of the teacher's; an empty one where none is.

    What it says is judged by the command `overview`, which needs no rights of root's.
    """
    teacher = int(os.environ.get("SUDO_UID", 0)), int(os.environ.get("SUDO_GID", 0))
    if not os.path.lexists(asked.to):
        asked.to.mkdir(mode=PRIVATE)
        os.chown(asked.to, *teacher)
    found = asked.to.lstat()
    if stat.S_IMODE(found.st_mode) != PRIVATE or found.st_uid != teacher[0]:
        raise Trouble(f"others can read {asked.to}: name a folder that does not exist yet")
    for login in accounts.members(places):
        file = asked.to / f"{login}{answers.FILE.suffix}"
        file.unlink(missing_ok=True)
        write_private(file, answers_of(login, places))
        os.chown(file, *teacher)
    say(f"The answers are in {asked.to}. Now run overview {asked.to} as yourself, without sudo.")


def answers_of(login, places):
    """Return what stands in a learner's answer file, '' where there is none, or a link leads on."""
    read = ["head", "-c", str(MOST), str(places.home(login) / LESSONS / answers.FILE.name)]
    try:
        said = accounts.run_as(accounts.entry(login), read, stdout=subprocess.PIPE, timeout=SECONDS)
    except subprocess.TimeoutExpired:  # no ordinary file
        return "not to be read"
    return said.stdout.decode("utf-8", "replace")


def show_class(places, _asked):
    """Print who is in the class and where their work lies."""
    for login in accounts.members(places):
        say(f"{login}  {places.home(login)}")
    say(f"{len(accounts.members(places))} learners; all of the class lies in {places.folder}.")
