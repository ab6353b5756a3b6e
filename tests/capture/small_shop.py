"""A shop as a process of its own that may be killed at any moment: port, file and a seed as arguments.

It stores what is posted by agent and sequence, once, flushed to disk before it answers; by its seed it sometimes dies
between the two, so that the agent is left without an answer.
"""

import json
import os
import random
import sqlite3
import sys
from http.server import BaseHTTPRequestHandler, HTTPServer


class Door(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    timeout = 5

    def log_message(self, *_):
        pass

    def do_POST(self):
        body = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
        base, before = self.server.base, self.server.base.total_changes
        with base:
            for row in body["readings"]:
                base.execute(
                    "INSERT OR IGNORE INTO readings VALUES (?, ?, ?)", (body["agent"], row["sequence"], json.dumps(row))
                )
        stored = base.total_changes - before
        if self.server.chance.random() < 0.04:
            os._exit(9)
        last = base.execute("SELECT max(sequence) FROM readings WHERE agent = ?", (body["agent"],)).fetchone()[0]
        answer = {"acknowledged": last, "stored": stored, "repeated": len(body["readings"]) - stored}
        text = json.dumps(answer).encode()
        self.send_response(200)
        self.send_header("Content-Length", str(len(text)))
        self.end_headers()
        self.wfile.write(text)


def serve(port, file, seed):
    server = HTTPServer(("127.0.0.1", int(port)), Door)
    server.chance = random.Random(int(seed))  # noqa: S311
    server.base = sqlite3.connect(file, isolation_level="IMMEDIATE")
    server.base.execute("PRAGMA journal_mode=WAL")
    server.base.execute("PRAGMA synchronous=FULL")
    server.base.execute("CREATE TABLE IF NOT EXISTS readings (agent, sequence, row, PRIMARY KEY (agent, sequence))")
    server.serve_forever(poll_interval=0.02)


if __name__ == "__main__":
    serve(*sys.argv[1:])
