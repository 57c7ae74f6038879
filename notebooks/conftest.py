"""Readies any Python with the requirements to check the lessons: ``pytest notebooks``."""

import json
import os
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def pytest_configure(config):
    """Give the kernels this clone's library, and no settings of the person who runs the checks."""
    paths = [str(ROOT), os.environ.get("PYTHONPATH", "")]
    os.environ["PYTHONPATH"] = os.pathsep.join(filter(None, paths))
    os.environ.pop("MPLBACKEND", None)
    os.environ.pop("WORKSHOP_ANSWERS", None)  # a check neither reads nor writes anyone's answers
    settings = tempfile.TemporaryDirectory(prefix="workshop-ipython-")
    config.add_cleanup(settings.cleanup)
    os.environ["IPYTHONDIR"] = settings.name
    profile = Path(settings.name, "profile_default")
    profile.mkdir()
    # Kernels of a check live and talk on this machine only: no word from each about encryption.
    quiet = {"IPKernelApp": {"log_level": "ERROR"}}
    (profile / "ipython_kernel_config.json").write_text(json.dumps(quiet))
    sanitize = Path(config.option.nbval_sanitize_with or "")
    config.option.nbval_sanitize_with = str(ROOT / sanitize)
