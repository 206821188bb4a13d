"""Instruments on pseudo-terminals of their own, told line by line what to do. Shares no code with the program under test.

    plug NAME LINK      makes a port and lets LINK point to it
    unplug NAME         takes port and link away, as a plug that is pulled
    send NAME HEX       sends bytes, cut at random places
    flood NAME HEX      sends the same bytes again and again, as fast as they go, until the port goes or "calm"
    calm NAME           ends a flood

Each is answered with "ok". The script keeps the far end open too, so that a port outlives a program that closes it.
"""
import os
import random
import sys
import threading
import tty


class Instrument:
    def __init__(self, link: str) -> None:
        self.master, self.slave = os.openpty()
        tty.setraw(self.slave)
        self.link, self.floods, self.turn = link, False, threading.Lock()
        os.symlink(os.ttyname(self.slave), link)

    def unplug(self) -> None:
        self.floods = False
        os.unlink(self.link)
        os.close(self.slave)
        os.close(self.master)

    def send(self, text: bytes, dice: random.Random) -> None:
        with self.turn:
            while text:
                cut = dice.randint(1, 9)
                text = text[os.write(self.master, text[:cut]):]

    def flood(self, text: bytes) -> None:
        self.floods = True
        while self.floods:
            try:
                os.write(self.master, text)
            except OSError:
                return


def main() -> None:
    instruments, dice = {}, random.Random(7)
    for line in sys.stdin:
        word, name, *more = line.split()
        if word == "plug":
            instruments[name] = Instrument(more[0])
        elif word == "unplug":
            instruments.pop(name).unplug()
        elif word == "send":
            threading.Thread(target=instruments[name].send, args=(bytes.fromhex(more[0]), dice), daemon=True).start()
        elif word == "flood":
            threading.Thread(target=instruments[name].flood, args=(bytes.fromhex(more[0]),), daemon=True).start()
        elif word == "calm":
            instruments[name].floods = False
        print("ok", flush=True)


if __name__ == "__main__":
    main()
