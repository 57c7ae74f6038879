"""Who is in the class? One learner on a line, by name, with a login name if you like."""

import csv
import hashlib
import re
import unicodedata
from typing import NamedTuple

from workshop_lib.launcher.trouble import Trouble

LARGEST = 100_000  # bytes
LETTERS = "abcdefghjkmnpqrstuvwxyz"  # none that looks like another
LONGEST_NAME = 60
LOGIN = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
LONGEST_LOGIN = 30  # Linux allows 32
# How a column of names, and one of login names, is headed in the languages of spreadsheets.
HEADINGS = {
    *("name", "names", "full name", "first name", "last name", "surname", "student", "learner"),
    *("vorname", "nachname", "schüler", "nom", "prénom", "nombre", "apellido", "alumno", "nome"),
    *("cognome", "naam", "voornaam", "achternaam", "namn", "förnamn", "efternamn", "navn"),
    *(
        "nimi",
        "imię",
        "nazwisko",
        "jméno",
        "név",
        "имя",
        "фамилия",
        "όνομα",
        "姓名",
        "名前",
        "이름",
    ),
    *("login", "login name", "user", "user name", "username", "account", "e-mail", "email"),
}
FORMULA = tuple("=+-@|%")  # a spreadsheet would run what begins so
SHOWN = 10  # faults said at once
# Letters that do not fall apart into a plain letter and a mark.
SPELT = str.maketrans({"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ı": "i"})
MEND = "write a login name of your own behind it, after a comma"


class Learner(NamedTuple):
    """One learner: the name for people, and the name to sign in with."""

    name: str
    login: str


def read(path):
    """Return the learners of a list, or raise Trouble that names every line to correct."""
    rows, faults, owners = [], [], {}
    for number, line in enumerate(text_of(path).splitlines(), start=1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        cells = split(line)
        if not (rows or faults) and {cell.casefold() for cell in cells if cell} <= HEADINGS:
            continue
        try:
            learner = learner_from(cells)
            first = owners.setdefault(learner.login, number)
            if first != number:
                raise ValueError(f"{learner.login!r} is already taken by line {first}: {MEND}")
            rows.append(learner)
        except ValueError as fault:
            faults.append(f"{path}, line {number}: {fault}")
    if faults:
        more = [f"… and {len(faults) - SHOWN} more"] if len(faults) > SHOWN else []
        raise Trouble("\n".join([*faults[:SHOWN], *more]))
    if not rows:
        raise Trouble(f"{path} has no names in it: write one learner on each line")
    return rows


def text_of(path):
    """Return the text of a list; what is no such text is refused in a sentence."""
    try:
        with open(path, "rb") as file:
            data = file.read(LARGEST + 1)
    except OSError as error:
        raise Trouble(f"the class list {path} cannot be read: {error.strerror}") from error
    if len(data) > LARGEST:
        raise Trouble(f"{path} is far too long for a class list: write one learner on each line")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise Trouble(f"{path} is not UTF-8 text: save it as plain text or CSV in UTF-8") from error


def split(line):
    """Return a line's cells, whichever separator the spreadsheet put between them."""
    separator = next((mark for mark in "\t;" if mark in line), ",")
    try:
        cells = next(csv.reader([line], delimiter=separator, skipinitialspace=True)) or [line]
    except csv.Error:
        cells = [line]
    return [" ".join(cell.split()) for cell in cells]


def learner_from(cells):
    """Return the learner whom a line's cells name; raise ValueError with what to correct."""
    while len(cells) > 1 and not cells[-1]:
        cells = cells[:-1]
    if len(cells) > 2:
        raise ValueError("there is more here than a name and a login name")
    name, login = cells[0], cells[1] if len(cells) == 2 else ""
    if not name:
        raise ValueError("the name is missing")
    if len(name) > LONGEST_NAME or not name.isprintable():
        raise ValueError(f"a name has at most {LONGEST_NAME} letters and no control characters")
    if name.startswith(FORMULA):
        raise ValueError(
            f"a name cannot begin with {name[0]!r}: a spreadsheet takes it for a formula"
        )
    return Learner(name, checked(login) if login else login_from(name))


def checked(login):
    """Return a login name that Linux, an address and a folder's name can all bear, or raise."""
    if not LOGIN.fullmatch(login) or len(login) > LONGEST_LOGIN:
        raise ValueError(
            f"{login[:40]!r} cannot be a login name: use small letters a to z, digits and single "
            f"hyphens, a letter first, at most {LONGEST_LOGIN} in all"
        )
    return login


def login_from(name):
    """Return the login name that a person's name gives: 'Åsa Öberg' signs in as 'asa-oberg'.

    A name in another alphabet, or a long one, gives four letters that are always the same.

    >>> login_from("Åsa Öberg"), login_from("J. O'Neill"), login_from("Иван")[:8]
    ('asa-oberg', 'j-oneill', 'learner-')
    """
    apart = unicodedata.normalize("NFKD", name.casefold().translate(SPELT))
    bare = "".join(c for c in apart if not unicodedata.combining(c) and c not in "'’")
    login = re.sub(r"[\W_]+", "-", bare).strip("-")
    if LOGIN.fullmatch(login) and len(login) <= LONGEST_LOGIN:
        return login
    if not any(map(str.isalpha, name)):
        raise ValueError(f"no login name can be made of {name!r}: {MEND}")
    digest = hashlib.sha256(apart.encode()).digest()
    return "learner-" + "".join(LETTERS[byte % len(LETTERS)] for byte in digest[:4])
