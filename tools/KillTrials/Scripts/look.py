"""Looks into a store with a reader that is not the program's own: Python's sqlite3. Writes JSON.

Lines are cut from the journal's bytes anew, by the plainest rule: a link's bytes, split at line ends.

usage: look.py DATABASE
"""
import json
import re
import sqlite3
import sys


def lines_of(entries):
    whole, rest = [], b""
    for event, data in entries:
        if event == "opened":
            rest = b""
        elif event == "received":
            rest += data
            *ended, rest = re.split(b"[\r\n]", rest)
            whole += [line.decode("latin-1") for line in ended if line]
    return whole


def main() -> None:
    store = sqlite3.connect(sys.argv[1])
    ask = lambda sql, *values: store.execute(sql, values).fetchall()
    version = ask("pragma user_version")[0][0]
    found = {
        "version": version,
        "integrity": [row[0] for row in ask("pragma integrity_check")],
        "foreignKeys": len(ask("pragma foreign_key_check")),
        "sessions": [],
    }
    tables = {name for (name,) in ask("select name from sqlite_master where type = 'table'")}
    lines = "record_line where record = 'strip' and" if "record_line" in tables else "strip_line where"
    for (session,) in ask("select id from bench_session order by id"):
        stored = ask("select bytes, meaning from session_line where session_id = ? order by sequence", session)
        found["sessions"].append({
            "id": session,
            "end": next((row[0] for row in ask("select outcome from session_end where session_id = ?", session)), None),
            "lines": [bytes(data).decode("latin-1") for data, meaning in stored if meaning == "reading"],
            "cut": sum(meaning != "reading" for _, meaning in stored),
            "journal": lines_of(ask("select event, bytes from session_entry where session_id = ? order by sequence", session)) if version >= 8 else [],
            "strips": [
                [bytes(data).decode("latin-1") for (data,) in ask(
                    f"select bytes from {lines} revision_id = ? order by patch_position, read_number, position", revision)]
                for (revision,) in ask("select revision_id from strip_revision where session_id = ? and revision = 1", session)
            ],
            "booked": [
                ask(f"select count(*) from {table} where strip_id in (select strip_id from strip_revision where session_id = ? and revision = 1)", session)[0][0]
                for table in ("film_use", "stock_move") if table in tables
            ],
        })
    json.dump(found, sys.stdout)


if __name__ == "__main__":
    main()
