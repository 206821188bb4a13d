"""An instrument that shares no code with the program under test, and that outlives it.

Owns a pseudo-terminal, links its end to a name, and sends readings for ever, cut at random places with short random pauses. It waits while
what it sent has not been read, as a person would with the next patch. No two readings are alike, so that one that is lost or stored
twice shows.

usage: densitometer.py LINK SEED FIRST
"""
import fcntl
import os
import random
import struct
import sys
import termios
import time
import tty


def unread(port: int) -> int:
    return struct.unpack("i", fcntl.ioctl(port, termios.FIONREAD, b"\0\0\0\0"))[0]


def main() -> None:
    link, seed, number = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
    dice = random.Random(seed)
    ours, theirs = os.openpty()
    tty.setraw(theirs)
    os.symlink(os.ttyname(theirs), link)
    while True:
        line = f"R {number % 400 / 100:.2f} G {number // 400 % 400 / 100:.2f} B 2.10\r\n".encode()
        number += 1
        while line:
            while unread(theirs) > 30:
                time.sleep(0.0005)
            cut = dice.randint(1, 12)
            piece, line = line[:cut], line[cut:]
            while piece:
                piece = piece[os.write(ours, piece):]
            if dice.random() < 0.3:
                time.sleep(dice.choice((0.0005, 0.001, 0.003)))


if __name__ == "__main__":
    main()
