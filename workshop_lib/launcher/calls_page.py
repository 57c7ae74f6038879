"""How are all calls of the library put on one page? The command `calls`, by pdoc, no network.

A room's front door says which names are public; their docstrings say units, shapes, errors and
source. pdoc writes a page for each room, and here they are put together into one.
"""

import ast
import importlib
import inspect
import re
import sys
from pathlib import Path

import pdoc

from workshop_lib.launcher.environment import ROOT
from workshop_lib.sources import replace_text

FILE = ROOT / "pages" / "calls.html"
TITLE = "The calls of the workbook's library"
# pdoc's own layout puts a list beside one room. Of its elements none is used: here is one column.
# Its greens are too pale on its grey, and its links are told by their colour alone.
STYLE = (
    "body{display:block;padding:1em}.pdoc{max-width:60em;margin:auto;--accent:#f6f6f6}"
    ".pdoc a{text-decoration:underline}.pdoc .headerlink{display:none}"
    ".pdoc .def,.pdoc .nb,.pdoc .default_value *{color:#060}.pdoc pre{white-space:pre-wrap}"
)
POLICY = "default-src 'none'; img-src data:; style-src 'unsafe-inline'"


def main(arguments):
    """Write the page into pages/, or into the file that is named; return an exit status."""
    if len(arguments) > 1 or any(each.startswith("-") for each in arguments):
        print("Name one file for the page, or none.", file=sys.stderr)
        return 2
    file = Path(*arguments) if arguments else FILE
    file.parent.mkdir(parents=True, exist_ok=True)
    replace_text(file, page())
    print(f"Calls: in {file}")
    return 0


def rooms():
    """Return the names of the rooms that have public names, in the order of their names."""
    doors = sorted((ROOT / "workshop_lib").glob("*/__init__.py"))
    return [door.parent.name for door in doors if names(door)]


def names(door):
    """Return the public names that a front door lists."""
    body = ast.parse(door.read_text(encoding="utf-8")).body
    lists = [node for node in body if isinstance(node, ast.Assign)]
    public = [node.value for node in lists if node.targets[0].id == "__all__"]
    return [name for value in public for name in ast.literal_eval(value)]


def modules():
    """Import the rooms, and the modules that they hand on; return their full names."""
    found = []
    for room in rooms():
        door = importlib.import_module(f"workshop_lib.{room}")
        handed_on = [getattr(door, name) for name in door.__all__]
        found += [door.__name__, *(each.__name__ for each in handed_on if inspect.ismodule(each))]
    return found


def short(name):
    """Return a module's name as a person writes it in the page's links."""
    return name.removeprefix("workshop_lib.")


def page():
    """Return the page as HTML text."""
    pdoc.render.configure(docformat="markdown", show_source=False, search=False)
    loaded = {name: pdoc.doc.Module(sys.modules[name]) for name in modules()}
    parts = [part(module, loaded) for module in loaded.values()]
    found = zip(map(short, loaded), parts, strict=True)
    links = "".join(f"<li>{link(room, room)}: {calls(room, it)}</li>" for room, (_, it) in found)
    styles = "".join(re.findall(r"<style>.*?</style>", parts[0][0], re.DOTALL))
    return f"""<!doctype html>
<html lang="en-GB"><head><meta charset="utf-8"><title>{TITLE}</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="{POLICY}">
{styles}<style>{STYLE}</style></head>
<body><div class="pdoc" role="main"><h1>{TITLE}</h1>
<p>A number goes in with its unit, as text or as a quantity; what comes back is a quantity.</p>
<div role="navigation" aria-label="Rooms and their calls"><ul>{links}</ul></div>
{"".join(content for _, content in parts)}
</div></body></html>
"""


def link(anchor, text):
    """Return a link to a place on the page."""
    return f'<a href="#{anchor}">{text}</a>'


def calls(room, content):
    """Return links to what stands in a room's content, without the parts of a class."""
    names = re.findall(rf'\bid="{re.escape(room)}\.(\w+)"', content)
    return ", ".join(link(f"{room}.{name}", name) for name in names)


def part(module, loaded):
    """Return pdoc's whole page of a room, and its content with anchors that name the room."""
    whole = pdoc.render.html_module(module, loaded)
    room = short(module.modulename)
    content = re.search(r'<main class="pdoc">(.*)</main>', whole, re.DOTALL)[1]
    content = re.sub(r'(\bid|\bfor)="([^"]+)"', rf'\1="{room}.\2"', content)
    content = re.sub(r'href="#([^"]+)"', rf'href="#{room}.\1"', content)
    for name in sorted(map(short, loaded), key=len):  # to pdoc each is a file of its own
        file = rf"(?:[./]*|[\w./]*/){name.replace('.', '/')}\.html"
        content = re.sub(rf'href="{file}#([^"]+)"', rf'href="#{name}.\1"', content)
        content = re.sub(rf'href="{file}"', f'href="#{name}"', content)
    content = content.replace('href=""', f'href="#{room}"')
    content = content.replace(str(ROOT), "the workbook's folder")
    content = re.sub(r"<(/?)h1\b", r"<\1h2", content)
    return whole, f'<div id="{room}">{content}</div>\n'
