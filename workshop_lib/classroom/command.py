"""The command `class`: what the teacher types, and what comes back."""

import argparse

from workshop_lib.classroom import accounts, class_list, hub, spawning
from workshop_lib.classroom.places import USUAL_FOLDER, Places
from workshop_lib.classroom.settings import Wish, refuse_unsafe
from workshop_lib.launcher.environment import say
from workshop_lib.launcher.trouble import Trouble


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
    top.add_argument(
        "--folder",
        default=USUAL_FOLDER,
        help="where the class and all its work lies (usually %(default)s)",
    )
    acts = top.add_subparsers(required=True, metavar="add | start | password | remove | show")
    add = acts.add_parser("add", help="add the learners of a list and print their passwords")
    add.add_argument("list", help="a text or CSV file: a name on each line, or name, login name")
    add.set_defaults(act=add_learners)
    add_start(acts.add_parser("start", help="open the class, until Ctrl-C"))
    password = acts.add_parser("password", help="give a learner a new password")
    password.set_defaults(act=new_password)
    leave = acts.add_parser("remove", help="take a learner's account away; the work is kept")
    leave.set_defaults(act=remove_learner)
    for each in (password, leave):
        each.add_argument("login", help="the learner's login name")
    show = acts.add_parser("show", help="say who is in the class and where the work lies")
    show.set_defaults(act=show_class)
    return top


def add_start(start):
    """Describe the options of `start`."""
    usual = Wish()
    say_usual = "(usually %(default)s)"
    start.add_argument("--port", type=int, default=usual.port, help=say_usual)
    start.add_argument(
        "--network",
        action="store_true",
        help="open to the classroom's network, not to this machine only",
    )
    start.add_argument("--certificate", default="", help="TLS certificate, a PEM file")
    start.add_argument("--key", default="", help="the certificate's key, a PEM file")
    start.add_argument(
        "--unencrypted",
        dest="encrypted",
        action="store_false",
        help="go on the network without a certificate: everybody there can read all",
    )
    start.add_argument(
        "--memory",
        type=int,
        default=usual.memory,
        help=f"MB for each program of a learner {say_usual}",
    )
    start.add_argument(
        "--idle",
        type=int,
        default=usual.idle,
        help=f"minutes after which an unused server ends {say_usual}",
    )
    start.set_defaults(act=start_class)


def start_class(places, asked):
    """Open the class and stay until it is closed."""
    wish = Wish(**{name: getattr(asked, name) for name in Wish._fields})
    refuse_unsafe(wish)
    if not accounts.members(places):
        raise Trouble("nobody is in this class yet: add a class list first")
    environment = hub.prepare(places)
    return hub.run(places, environment, wish)


def add_learners(places, asked):
    """Add the learners of a list and print the passwords of the new ones."""
    learners = class_list.read(asked.list)
    for learner in learners:
        accounts.refuse_taken(learner.login, places)
    places.make()
    accounts.make_service()
    new = [learner for learner in learners if accounts.add(learner.login, places)]
    passwords = {learner.login: accounts.first_password() for learner in new}
    if new:
        accounts.set_passwords(passwords)
        show_passwords(new, passwords)
    known = len(learners) - len(new)
    say(f"{len(new)} added" + (f", {known} were in the class already." if known else "."))


def show_passwords(learners, passwords):
    """Print names, login names and passwords, for slips of paper."""
    wide = max(len(learner.name) for learner in learners)
    login = max(len(learner.login) for learner in learners)
    for learner in learners:
        say(f"{learner.name:{wide}}  {learner.login:{login}}  {passwords[learner.login]}")
    say("These passwords are shown only now: print them, or cut them into slips.")


def new_password(places, asked):
    """Give one learner a new password and print it."""
    refuse_unknown(asked.login, places)
    password = accounts.first_password()
    accounts.set_passwords({asked.login: password})
    say(f"{asked.login}  {password}")


def refuse_unknown(login, places):
    """Refuse a login name that no learner of this class has."""
    if not accounts.belongs(login, places):
        raise Trouble(f"this class has no learner {login!r}: 'show' names them")


def remove_learner(places, asked):
    """Take one learner's account and password away; the home is moved aside, unharmed."""
    refuse_unknown(asked.login, places)
    places.make()
    with hub.taken(places) as free:
        if not free:
            raise Trouble("the class is running: stop it before a learner is removed")
        hub.forget(places, asked.login)
        uid = accounts.entry(asked.login).pw_uid
        kept = accounts.remove(asked.login, places)
        spawning.remove_socket_folder(uid)
    say(f"{asked.login} is removed; the work is kept in {kept}.")


def show_class(places, _asked):
    """Print who is in the class and where their work lies."""
    for login in accounts.members(places):
        say(f"{login}  {places.home(login)}")
    say(f"{len(accounts.members(places))} learners; all of the class lies in {places.folder}.")
