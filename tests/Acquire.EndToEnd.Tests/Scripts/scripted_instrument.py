"""An instrument that shares no code with the program under test.

Writes the bytes of a file to a serial device, cut at random places, with short random pauses between the pieces.

usage: scripted_instrument.py DEVICE FILE SEED
"""
import os
import random
import sys
import time


def main() -> None:
    device, path, seed = sys.argv[1], sys.argv[2], int(sys.argv[3])
    dice = random.Random(seed)
    with open(path, "rb") as source:
        rest = source.read()
    port = os.open(device, os.O_WRONLY | os.O_NOCTTY)
    try:
        while rest:
            cut = dice.randint(1, 9)
            piece, rest = rest[:cut], rest[cut:]
            while piece:
                piece = piece[os.write(port, piece):]
            time.sleep(dice.choice((0, 0, 0.001, 0.004, 0.012)))
    finally:
        os.close(port)


if __name__ == "__main__":
    main()
