"""An instrument that reads when it is told, and shares no code with the program under test.

Does nothing before an empty command (a carriage return) has come, as the profile promises to send one after opening; then answers
each READ with the next line of the file after a pause, and each WHO with its serial number. Repeats commands as they come.

usage: told_instrument.py DEVICE FILE
"""
import os
import sys
import time
import tty


def main() -> None:
    device, path = sys.argv[1:]
    with open(path, encoding="ascii") as source:
        lines = source.read().splitlines()
    port = os.open(device, os.O_RDWR | os.O_NOCTTY)
    tty.setraw(port)
    heard, is_set_up = b"", False
    while lines:
        heard += os.read(port, 64)
        while b"\r" in heard:
            command, heard = heard.split(b"\r", 1)
            if not command:
                is_set_up = True
                continue
            if not is_set_up:
                continue
            os.write(port, command + b"\r\n")
            if command == b"READ" and lines:
                time.sleep(0.05)
                os.write(port, lines.pop(0).encode("ascii") + b"\r\n")
            elif command == b"WHO":
                os.write(port, b"UNIT 20031 REV 2.0\r\n")
            elif command != b"READ":
                os.write(port, b"ERROR 1\r\n")
    time.sleep(60)


if __name__ == "__main__":
    main()
