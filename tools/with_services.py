"""Run a command with a PostgreSQL server of its own and a Chromium, and stop the server afterwards, whatever happens.

The command finds WHOLEFILM_TEST_POSTGRES (a database URL whose user may make databases) and WHOLEFILM_TEST_CHROMIUM (a path)
in its environment. The server listens on 127.0.0.1 only, on a free port, with its files in a temporary folder, durable writes on.
"""

import os
import pwd
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
from pathlib import Path

from system_packages import find

SERVER_WORDS = "-c listen_addresses=127.0.0.1 -c fsync=on -c full_page_writes=on -c max_connections=200 -c logging_collector=off"


class Stopped(Exception):
    """A signal asked this program to end."""


def free_port():
    """A TCP port on 127.0.0.1 that nobody uses at this moment."""
    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        return door.getsockname()[1]


def as_server(words):
    """The words of a command as the user who may run the server: it refuses to run as root."""
    return ["runuser", "-u", server_user(), "--", *words] if os.geteuid() == 0 else words


def server_user():
    """`postgres` where that user exists, otherwise `nobody`."""
    try:
        return pwd.getpwnam("postgres").pw_name
    except KeyError:
        return "nobody"


def run(words):
    """Run one command of the server quietly; on failure print what it said and raise."""
    done = subprocess.run(as_server(words), capture_output=True, text=True, stdin=subprocess.DEVNULL, cwd="/")
    if done.returncode != 0:
        raise RuntimeError(f"{' '.join(words)} failed:\n{done.stdout}{done.stderr}")


def start(folder, port):
    """Make a fresh cluster below `folder` and start it; returns when it answers."""
    data, log = folder / "data", folder / "log"
    run([find("initdb"), "-D", str(data), "-U", "postgres", "--auth=trust", "--encoding=UTF8", "--locale=C"])
    words = f"{SERVER_WORDS} -p {port} -k {folder}"
    # Its log goes to a file of its own: the server must not hold this program's output open.
    command = [find("pg_ctl"), "-D", str(data), "-l", str(log), "-o", words, "-w", "-t", "60", "start"]
    done = subprocess.run(as_server(command), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, stdin=subprocess.DEVNULL, cwd="/")
    if done.returncode != 0:
        raise RuntimeError("PostgreSQL did not start:\n" + (log.read_text() if log.exists() else "it left no log"))


def stop(folder):
    """Stop the server below `folder` if it runs."""
    if (folder / "data" / "postmaster.pid").exists():
        run([find("pg_ctl"), "-D", str(folder / "data"), "-m", "fast", "-w", "-t", "60", "stop"])


def wait_for(child):
    """Exit code of the child; a signal sent to us is handed on to it, and we wait until it has ended."""
    try:
        return child.wait()
    except (Stopped, KeyboardInterrupt):
        child.terminate()
        try:
            child.wait(timeout=20)
        except subprocess.TimeoutExpired:
            child.kill()
            child.wait()
        return 130


def on_signal(number, frame):
    """Turn a signal into an exception, so that `finally` stops the server."""
    raise Stopped(signal.Signals(number).name)


def main(words):
    """Run `words` with the services; returns its exit code, 1 if a service is missing or does not start."""
    for program in ("initdb", "pg_ctl", "chromium"):
        if find(program) is None:
            print(f"{program} is not here; run tools/system_packages.py, it says what to install.", file=sys.stderr)
            return 1
    signal.signal(signal.SIGTERM, on_signal)
    signal.signal(signal.SIGHUP, on_signal)
    folder = Path(tempfile.mkdtemp(prefix="wholefilm-pg-"))
    try:
        if os.geteuid() == 0:
            shutil.chown(folder, server_user())
        port = free_port()
        start(folder, port)
        env = {
            **os.environ,
            "WHOLEFILM_TEST_POSTGRES": f"postgresql+psycopg://postgres@127.0.0.1:{port}/postgres",
            "WHOLEFILM_TEST_CHROMIUM": find("chromium"),
        }
        return wait_for(subprocess.Popen(words, env=env))
    except (RuntimeError, OSError, Stopped, KeyboardInterrupt) as error:
        print(f"with_services: {error}", file=sys.stderr)
        return 1
    finally:
        for number in (signal.SIGTERM, signal.SIGHUP, signal.SIGINT):
            signal.signal(number, signal.SIG_IGN)
        stop(folder)
        shutil.rmtree(folder, ignore_errors=True)


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit("usage: with_services.py COMMAND [WORD ...]")
    sys.exit(main(sys.argv[1:]))
