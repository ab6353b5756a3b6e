#!/usr/bin/env python3
"""Set Flueproof up and run it: `python3 start.py demo` or `python3 start.py test`.

Needs nothing but Python 3.11 or newer: no git, no make, nothing installed before. It makes `.venv` beside this
file from the hash-pinned locks, and does nothing when nothing changed. Standard library only, and written so
that any Python 3 can read it (no f-strings, no annotations): an old one then says what is missing in one sentence.

How it stays safe: a stamp is written into `.venv` last, so a set-up that was cut short has none and is made
afresh; an operating-system lock on `.venv.lock` makes a second start.py wait for the first, and the installers
inherit that lock, so that one which outlives its start.py still keeps the next one waiting.
"""

import errno
import hashlib
import os
import re
import subprocess
import sys
import tempfile
import time

OLDEST = (3, 11)
NEWEST_CHECKED = (3, 14)
ROOT = os.path.dirname(os.path.abspath(__file__))
ENV = os.path.join(ROOT, ".venv")
STAMP = os.path.join(ENV, "flueproof-stamp")
TOOLS = "tools.lock"  # the installer (uv) and the build back end (hatchling)
RUNTIME = "requirements.lock"
DEVELOPMENT = "dev.lock"  # holds everything in requirements.lock too
PROJECT = "pyproject.toml"
LAYOUT = "1"  # raise when this script sets the environment up in another way
USAGE = (
    """usage: python3 start.py demo [OPTION...]   open the demo shop; with --papers certificates and stickers in a folder
       python3 start.py test [PATH...]     all checks and tests, or only the tests named
Both first make or refresh the environment in .venv (Python %d.%d or newer is all they need)."""
    % OLDEST
)


class SetUpError(Exception):
    """What stops the set-up, as one sentence for a person."""


def complaint(version, modules):
    """Return the sentence that says why this Python will not do, or None.

    version: (major, minor, ...) of the Python that runs; modules: name -> True when it can be imported.
    """
    if tuple(version[:2]) < OLDEST:
        return (
            "Flueproof needs Python %d.%d or newer; this is %d.%d. Install a newer Python and run the same command with it."
            % (OLDEST + tuple(version[:2]))
        )
    missing = [name for name in sorted(modules) if not modules[name]]
    if missing:
        return (
            "This Python lacks %s, which makes the environment; install it (Debian and Ubuntu: apt install "
            "python%d.%d-venv) and run the same command again." % ((" and ".join(missing),) + tuple(version[:2]))
        )
    return None


def importable(name):
    """Return True when a module of the standard library is really there (Debian ships some apart)."""
    try:
        __import__(name)
    except ImportError:
        return False
    return True


def in_env(name):
    """Return the path of a program in the environment, on any system."""
    if os.name == "nt":
        return os.path.join(ENV, "Scripts", name + ".exe")
    return os.path.join(ENV, "bin", name)


def digest(name):
    """Return the SHA-256 of a file at the root."""
    with open(os.path.join(ROOT, name), "rb") as handle:
        return hashlib.sha256(handle.read()).hexdigest()


def wanted(lock):
    """Return what the stamp must hold for the environment to serve, as name -> mark."""
    base = "\n".join([LAYOUT, sys.version, os.path.realpath(sys.base_prefix), ROOT])
    marks = {"base": hashlib.sha256(base.encode("utf-8", "surrogateescape")).hexdigest()}
    for name in (TOOLS, PROJECT, lock):
        marks[name] = digest(name)
    return marks


def stamped():
    """Return what the environment's stamp holds; empty when there is none, or no Python in the environment."""
    try:
        with open(STAMP) as handle:
            pairs = [line.split() for line in handle]
    except OSError:
        return {}
    return dict(pair for pair in pairs if len(pair) == 2) if os.path.exists(in_env("python")) else {}


def serves(have, want):
    """Return True when the stamp holds every mark that is wanted."""
    return all(have.get(name) == want[name] for name in want)


def write_stamp(marks):
    """Write the stamp in one move, so that it is never half there."""
    with open(STAMP + ".new", "w") as handle:
        for name in sorted(marks):
            handle.write("%s %s\n" % (name, marks[name]))
    os.replace(STAMP + ".new", STAMP)


def try_lock(handle):
    """Return True when the lock on an open file was free and is now ours."""
    try:
        if os.name == "nt":
            import msvcrt

            handle.seek(0)
            msvcrt.locking(handle.fileno(), msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        if error.errno in (errno.EAGAIN, errno.EACCES, errno.EDEADLK):
            return False
        say("this file system has no locks; do not run start.py twice at once here")
    return True


def wait_for_lock(handle, pause=0.2):
    """Wait until the lock is ours; say once that we wait."""
    told = False
    while not try_lock(handle):
        if not told:
            say("another start.py is setting up .venv; waiting for it")
            told = True
        time.sleep(pause)


def say(text):
    """Print a line about the set-up at once, apart from the output of the job."""
    sys.stderr.write("start.py: %s\n" % text)
    sys.stderr.flush()


def clean_surroundings():
    """Return the environment variables without those that would lead an installer out of .venv."""
    away = ("PYTHONHOME", "PYTHONPATH", "PIP_USER", "PIP_TARGET", "PIP_PREFIX", "PIP_ROOT", "UV_SYSTEM_PYTHON",
            "UV_TARGET", "UV_PREFIX", "UV_PROJECT_ENVIRONMENT", "VIRTUAL_ENV", "__PYVENV_LAUNCHER__")  # fmt: skip
    kept = dict((name, os.environ[name]) for name in os.environ if name not in away)
    kept["PIP_DISABLE_PIP_VERSION_CHECK"] = "1"
    return kept


def run(command, held):
    """Run one step of the set-up and return True when it worked; it inherits the lock."""
    more = {} if os.name == "nt" else {"pass_fds": (held.fileno(),)}
    try:
        return subprocess.call(command, env=clean_surroundings(), cwd=ROOT, **more) == 0
    except OSError:
        return False


def make_environment(held):
    """Make an empty .venv with pip in it, and put the installer and the build back end there."""
    base = getattr(sys, "_base_executable", None) or sys.executable
    if not run([base, "-m", "venv", "--clear", ENV], held):
        raise SetUpError("Could not make %s (the reason stands above); remove that folder and try again." % ENV)
    if not install_by_pip(TOOLS, held):
        say("the installer uv cannot be had here; going on with pip")
        install_tools_without_uv(held)


def install_tools_without_uv(held):
    """Install the build back end alone, still by its hashes."""
    with open(os.path.join(ROOT, TOOLS)) as handle:
        blocks = re.split(r"(?m)^(?=\S)", handle.read())
    handle, path = tempfile.mkstemp(suffix=".lock", prefix="flueproof-")
    try:
        with os.fdopen(handle, "w") as out:
            out.write("".join(block for block in blocks if not block.startswith("uv==")))
        if not install_by_pip(path, held):
            raise cannot_install(TOOLS)
    finally:
        os.remove(path)


def cannot_install(lock):
    """Return the error for a lock that neither installer could install."""
    text = (
        "Could not install what %s lists (the reason stands above); look at the network and run the same command again."
        % lock
    )
    if sys.version_info[:2] > NEWEST_CHECKED:
        text += " The locks are checked up to Python %d.%d; this is %d.%d." % (NEWEST_CHECKED + sys.version_info[:2])
    return SetUpError(text)


def install_by_pip(lock, held):
    """Install a lock with pip, hashes required, nothing built on the way; return True when it worked."""
    options = ["-qq", "--no-input", "--only-binary", ":all:", "--require-hashes", "-r", os.path.join(ROOT, lock)]
    return run([in_env("python"), "-m", "pip", "install"] + options, held)


def install_by_uv(options, held):
    """Install with uv into .venv; return True when it worked."""
    python = in_env("python")
    have_uv = os.path.exists(in_env("uv"))
    return have_uv and run([python, "-m", "uv", "pip", "install", "-q", "--python", python] + options, held)


def install_lock(lock, held):
    """Install a lock by uv, or by pip where uv cannot."""
    options = ["--only-binary", ":all:", "--require-hashes", "-r", os.path.join(ROOT, lock)]
    if not install_by_uv(options, held):
        say("installing with pip (slower)")
        if not install_by_pip(lock, held):
            raise cannot_install(lock)


def install_project(held):
    """Install Flueproof itself so that a change in src/ counts at once; its build back end is the pinned one."""
    options = ["--no-deps", "--no-build-isolation", "-e", ROOT]
    if not install_by_uv(options, held) and not run([in_env("python"), "-m", "pip", "install", "-qq"] + options, held):
        raise SetUpError("Could not install Flueproof itself into .venv; the reason stands above.")


def refresh(lock, want, held):
    """Bring .venv to what is wanted; the stamp is taken away first and written last."""
    have = stamped()
    fits = have.get("base") == want["base"] and all(
        have[name] == digest(name) for name in (TOOLS, RUNTIME, DEVELOPMENT) if name in have
    )
    if os.path.exists(STAMP):
        os.remove(STAMP)
    if not fits:
        say("making .venv (the first time this takes a minute or so) ...")
        make_environment(held)
        have = {}
    if have.get(lock) != want[lock]:
        install_lock(lock, held)
    if have.get(PROJECT) != want[PROJECT]:
        install_project(held)
    have.update(want)
    if lock == DEVELOPMENT:
        have[RUNTIME] = digest(RUNTIME)
    write_stamp(have)


def set_up(lock):
    """Make sure that .venv holds what a lock lists and Flueproof itself; quick when it already does."""
    want = wanted(lock)
    if serves(stamped(), want):
        return
    began = time.time()
    with open(os.path.join(ROOT, ".venv.lock"), "a+") as held:
        wait_for_lock(held)
        if not serves(stamped(), want):
            refresh(lock, want, held)
            say(".venv is ready (%.1f s)" % (time.time() - began))


def main(arguments):
    """Run the script and return its exit code."""
    if arguments and arguments[0] not in ("demo", "test", "-h", "--help"):
        sys.stderr.write("start.py does not know %r; it knows demo and test.\n%s\n" % (arguments[0], USAGE))
        return 2
    if not arguments or arguments[0] not in ("demo", "test"):
        sys.stdout.write(USAGE + "\n")
        return 0 if arguments else 2
    trouble = complaint(sys.version_info, dict((name, importable(name)) for name in ("ensurepip", "venv")))
    if trouble:
        sys.stderr.write(trouble + "\n")
        return 1
    try:
        if arguments[0] == "demo":
            set_up(RUNTIME)
            command = [in_env("flueproof"), "demo"]
        else:
            set_up(DEVELOPMENT)
            command = [in_env("python"), os.path.join(ROOT, "scripts", "check.py")]
        return subprocess.call(command + arguments[1:], env=clean_surroundings())
    except SetUpError as error:
        sys.stderr.write("%s\n" % error)
        return 1
    except KeyboardInterrupt:
        say("stopped; the same command takes it up again")
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
