"""Does a learner's share hold while another wants the whole machine? Measured under systemd.

    python -m tests.classroom.shares_under_load FOLDER

As root, on Linux, by hand: two minutes. FOLDER is a Debian with systemd and python3, made by
`mmdebstrap --include=systemd,systemd-sysv,dbus,python3,procps bookworm FOLDER`. It is booted in
namespaces of its own, in control groups of its own (those of the first version, since a machine
that has bound its controllers to them lends no others), and runs the very command that starts a
learner's server. It prints what was measured, and ends with 0 when the share held.
"""

import contextlib
import json
import subprocess
import sys
import time
from pathlib import Path

from workshop_lib.classroom import settings
from workshop_lib.classroom.accounts import GROUP

GROUPS = Path("/sys/fs/cgroup")
CONTROLLERS = ("cpu", "cpuacct", "memory", "pids", "blkio", "devices", "freezer")
BOX = "shares-under-load"
SECONDS = 150
# What runs inside, as a service of the booted system. `share` is the class's own command.
INSIDE = '''
import json, subprocess
share = json.load(open("/srv/share.json"))
bare = share[share.index("setpriv"):]
def run(login, code, how=share):
    command = [word.format(login=login) for word in how] + ["python3", "-c", code]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
def end(process):
    subprocess.run(["pkill", "-KILL", "-u", "ann"])
    process.wait()
WORK = """
import time
start, x = time.perf_counter(), 0
for i in range(4_000_000): x += i
print(time.perf_counter() - start)
"""
BUSY = """
import os, time
for _ in range(150):
    if not os.fork():
        while True: pass
print("busy", flush=True)
time.sleep(99)
"""
FORKS = """
import os, time
for n in range(1000):
    try:
        if not os.fork(): time.sleep(20); os._exit(0)
    except OSError: break
print(n, flush=True)
time.sleep(99)
"""
EAT = """
import os, time
for _ in range(5):
    if not os.fork():
        held = bytearray(600_000_000)
        for i in range(0, len(held), 4096): held[i] = 1
        time.sleep(6); os._exit(0)
print(sum(os.wait()[1] == 0 for _ in range(5)))
"""
def work(how=share):
    return float(run("ben", WORK, how).communicate()[0])
found = {"alone": min(work() for _ in range(3))}
for name, how in (("beside 150 busy", share), ("without shares", bare)):
    ann = run("ann", BUSY, how)
    ann.stdout.readline()
    found[name] = min(work(how) for _ in range(3 if how is share else 1))
    end(ann)
ann = run("ann", FORKS)
found["processes"] = int(ann.stdout.readline())
end(ann)
found["of five times 600 MB"] = int(run("ann", EAT).communicate()[0])
json.dump(found, open("/srv/found.json", "w"))
subprocess.run(["systemctl", "poweroff"])
'''
SERVICE = """
[Unit]
After=multi-user.target
[Service]
Type=oneshot
ExecStart=/usr/bin/python3 /srv/inside.py
"""
# Becomes the first process of the booted system; it sees only the box's part of each controller.
BOOT = """
set -e
mount --make-rprivate /
mount --bind "$0" "$0"
cd "$0"
mount -t proc proc proc
mount -t sysfs sysfs sys
for place in sys/fs/cgroup run tmp dev; do mount -t tmpfs tmpfs $place; done
for name in null zero full random urandom tty; do
    touch dev/$name; mount --bind /dev/$name dev/$name
done
mkdir dev/pts dev/shm sys/fs/cgroup/systemd
for name in "$@"; do
    mkdir sys/fs/cgroup/$name; mount -t cgroup -o $name cgroup sys/fs/cgroup/$name
done
mount -t cgroup -o none,name=systemd cgroup sys/fs/cgroup/systemd
exec env -i container=box PATH=/usr/sbin:/usr/bin:/sbin:/bin /usr/sbin/chroot "$0" \\
    /lib/systemd/systemd systemd.unified_cgroup_hierarchy=0 --show-status=0
"""


def main(folder):
    """Boot, measure, print; return an exit status."""
    (folder / "srv" / "share.json").write_text(json.dumps(settings.share(settings.Wish())))
    (folder / "srv" / "inside.py").write_text(INSIDE)
    found = folder / "srv" / "found.json"
    found.unlink(missing_ok=True)
    service = folder / "etc/systemd/system/multi-user.target.wants/try-shares.service"
    service.unlink(missing_ok=True)
    service.write_text(SERVICE)
    accounts = f"getent group {GROUP} || groupadd {GROUP}; for each in ann ben; do "
    accounts += f"id $each || useradd -M -g {GROUP} -s /usr/sbin/nologin $each; done"
    subprocess.run(["chroot", folder, "sh", "-c", accounts], check=True, capture_output=True)
    with box() as enter:
        spaces = ["unshare", "-m", "-p", "-i", "-u", "-C", "-f", "--kill-child"]
        command = ["timeout", "-k", "5", str(SECONDS), *spaces, "sh", "-c", BOOT, folder]
        subprocess.run([*command, *CONTROLLERS], preexec_fn=enter, stdin=subprocess.DEVNULL)
    told = json.loads(found.read_text())
    for name, value in told.items():
        print(f"{name:22} {value:.3g}")  # noqa: T201
    held = told["beside 150 busy"] < 3 * told["alone"]
    held &= told["processes"] < 400 and told["of five times 600 MB"] < 5
    return 0 if held else 1


@contextlib.contextmanager
def box():
    """Make a control group in each hierarchy and take it away; gives what enters them all."""
    places = [GROUPS / name / BOX for name in (*CONTROLLERS, "systemd")]
    for place in places:
        place.mkdir(exist_ok=True)

    def enter():
        for place in places:
            (place / "cgroup.procs").write_text("0")

    try:
        yield enter
    finally:
        time.sleep(1)
        for place in places:
            for folder in sorted(place.rglob("*/"), key=lambda path: -len(path.parts)):
                folder.rmdir()
            place.rmdir()


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
