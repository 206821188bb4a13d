"""A person at a terminal: starts a program on a pseudo-terminal of its own and presses keys when certain texts appear.

usage: person_at_keyboard.py [TEXT KEYS]... -- PROGRAM ARGUMENT...

Each TEXT is waited for in what came after the one before; then KEYS are pressed. What the program shows goes to the standard
output; its exit code is the script's.
"""
import fcntl
import os
import pty
import struct
import sys
import termios

ROWS, COLUMNS = 50, 160


def main() -> int:
    split = sys.argv.index("--")
    script, command = sys.argv[1:split], sys.argv[split + 1:]
    steps = list(zip(script[::2], script[1::2]))
    child, terminal = pty.fork()
    if child == 0:
        os.environ["TERM"] = "xterm"
        os.execvp(command[0], command)
    fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", ROWS, COLUMNS, 0, 0))
    seen = b""
    while True:
        try:
            some = os.read(terminal, 4096)
        except OSError:
            break
        if not some:
            break
        os.write(1, some)
        seen += some
        while steps and steps[0][0].encode() in seen:
            text, keys = steps.pop(0)
            seen = seen[seen.index(text.encode()) + len(text.encode()):]
            os.write(terminal, keys.encode())
    _, status = os.waitpid(child, 0)
    return os.waitstatus_to_exitcode(status)


if __name__ == "__main__":
    sys.exit(main())
