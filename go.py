"""Sets up and runs Batterboard on a machine that has Python 3.11 or later and nothing else.

    python3 go.py book examples/orchard-gate/job.toml      any command of batterboard
    python3 go.py test                                     the tests; what follows goes to pytest

The first call makes .venv beside this file and installs there what constraints.txt names; later calls go straight
through. Set-up talks on stderr only. This file keeps to words that an old Python can read, so that it can say what is
wrong.
"""

import hashlib
import os
import shutil
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
VENV = os.path.join(HERE, ".venv")
PYTHON = os.path.join(VENV, "Scripts", "python.exe") if os.name == "nt" else os.path.join(VENV, "bin", "python")
MARK = os.path.join(VENV, "batterboard-set-up")
UNFINISHED = "unfinished"
PARTS = {"run": ".", "test": ".[test]"}


def main(arguments):
    if sys.version_info < (3, 11):
        found = ".".join(str(part) for part in sys.version_info[:2])
        stop("Batterboard needs Python 3.11 or later, not " + found + ". Try: python3.11 go.py (or 3.12, 3.13)")
    if not arguments:
        print(__doc__)
        return 2
    os.environ["OPENBLAS_NUM_THREADS"] = "1"  # a small solve is many times slower on two busy threads than on one
    if arguments[0] != "test":
        set_up("run")
        return hand_over(["-m", "batterboard"] + arguments)
    set_up("test")
    get_chromium()
    os.chdir(HERE)
    return hand_over(["-m", "pytest", "-n", "auto"] + arguments[1:])


def set_up(part):
    """.venv holds what `part` needs: at once where the mark says so, else installed, the mark written last."""
    with open(os.path.abspath(__file__), "rb") as itself:
        wait_for_others(itself)
        mark = read_mark()
        if is_ready(mark, part):
            return
        if mark and (mark[0] == UNFINISHED or mark[0] != HERE) or not os.path.exists(PYTHON):
            shutil.rmtree(VENV, ignore_errors=True)  # half made, or made where this folder lay before
        say("Setting up in " + VENV + " (once; up to 700 MB on disk, minutes on a slow line) ...")
        if not os.path.isdir(VENV):
            os.mkdir(VENV)
        write_mark([UNFINISHED])
        if not os.path.exists(PYTHON):
            make_venv()
        install(PARTS[part])
        write_mark([HERE, fingerprint(), part])
        say("Set up.")


def is_ready(mark, part):
    return os.path.exists(PYTHON) and mark in ([HERE, fingerprint(), part], [HERE, fingerprint(), "test"])


def fingerprint():
    """Changes with what is to be installed."""
    digest = hashlib.sha256()
    for name in ("pyproject.toml", "constraints.txt"):
        with open(os.path.join(HERE, name), "rb") as file:
            digest.update(file.read())
    return digest.hexdigest()


def read_mark():
    try:
        with open(MARK, encoding="utf-8") as file:
            return file.read().splitlines()
    except OSError:
        return []  # nothing there, or a .venv made by hand, which is used as it is


def write_mark(lines):
    with open(MARK, "w", encoding="utf-8") as file:
        file.write("\n".join(lines) + "\n")


def wait_for_others(itself):
    """A second call waits while the first sets up. The system lets go of the lock even when the first is killed."""
    try:
        import fcntl
    except ImportError:
        return  # Windows: nobody waits
    fcntl.flock(itself, fcntl.LOCK_EX)


def make_venv():
    try:
        import ensurepip  # noqa: F401  Debian keeps it in a package of its own
    except ImportError:
        package = "python" + ".".join(str(part) for part in sys.version_info[:2]) + "-venv"
        if not apt_get(package):
            stop("This Python cannot make an environment yet: apt-get install " + package + " (as root), then again.")
    if tell([sys.executable, "-m", "venv", VENV]):
        stop("Could not make " + VENV + ": see above.")


def install(what):
    """By uv where there is one, else by the pip that every environment brings."""
    wanted = ["--constraint", "constraints.txt", "--editable", what]
    uv = shutil.which("uv")
    if uv and tell([uv, "pip", "install", "--python", PYTHON] + wanted) == 0:
        return
    quiet = [] if sys.stderr.isatty() else ["--quiet"]
    if tell([PYTHON, "-m", "pip", "--disable-pip-version-check", "install"] + quiet + wanted):
        stop("Could not install what Batterboard needs: see above. The next call begins anew.")


def get_chromium():
    """The tests of the local page want a browser; without one they are skipped and say so."""
    if not shutil.which("chromium"):
        apt_get("chromium")


def apt_get(package):
    """Installed, where this is root on a machine that has apt-get?"""
    if not shutil.which("apt-get") or os.geteuid() != 0:
        return False
    say("Installing " + package + " by apt-get ...")
    os.environ["DEBIAN_FRONTEND"] = "noninteractive"
    tell(["apt-get", "-qq", "update"])
    return tell(["apt-get", "-qq", "install", "--yes", "--no-install-recommends", package]) == 0


def tell(command):
    """The exit status of a step of the set-up, whose words go to stderr: stdout is the command's."""
    return subprocess.call(command, cwd=HERE, stdin=subprocess.DEVNULL, stdout=sys.stderr)


def say(line):
    sys.stderr.write(line + "\n")
    sys.stderr.flush()


def stop(line):
    say(line)
    sys.exit(2)


def hand_over(command):
    """The command takes this process' place where it can, so that Ctrl-C and signals reach it."""
    if os.name == "nt":
        return subprocess.call([PYTHON] + command)
    sys.stdout.flush()
    return os.execv(PYTHON, [PYTHON] + command)


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        say("Stopped. The next call begins anew.")
        sys.exit(130)
