"""What does ``python3 -m workshop_lib`` do? The command line, run from the clone.

Every Python back to 2.7 can read this file, so that an old one gets a sentence instead of a
traceback; everything newer is imported only after the version is known to do.
"""

import subprocess
import sys

OLDEST = (3, 11)
LIKELY_MINORS = (13, 12, 14, 11)


def newer_python():
    """Return the command of a new enough Python on this machine, or None."""
    for minor in LIKELY_MINORS:
        if sys.platform == "win32":
            command = ["py", "-3.%d" % minor]
        else:
            command = ["python3.%d" % minor]
        try:
            trial = subprocess.Popen(
                command + ["-c", ""], stdout=subprocess.PIPE, stderr=subprocess.PIPE
            )
        except OSError:
            continue
        trial.communicate()
        if trial.returncode == 0:
            return " ".join(command)
    return None


def old_python_sentence(arguments):
    """Return the one sentence that an old Python gets: what is wrong and what to type."""
    newer = newer_python()
    if newer:
        remedy = "start it as: %s" % " ".join([newer, "-m", "workshop_lib"] + arguments)
    else:
        remedy = "install a newer one from python.org or your system's packages, then start again"
    return "The workbook needs Python %d.%d or newer and this is %d.%d: %s" % (
        OLDEST + tuple(sys.version_info[:2]) + (remedy,)
    )


def main():
    """Check the Python that is running, then hand the arguments to the commands."""
    if sys.version_info < OLDEST:
        sys.stderr.write(old_python_sentence(sys.argv[1:]) + "\n")
        return 2
    from workshop_lib.launcher.commands import run

    return run(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
