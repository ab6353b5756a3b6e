"""A small mail server of the tests' own (RFC 5321, the few verbs that a sender needs), that can refuse and keep."""

import base64
import contextlib
import email
import email.policy
import socketserver
import sys
import threading


class _Talk(socketserver.StreamRequestHandler):
    safe = False

    def setup(self):
        if self.server.tls is not None and not self.server.starts:
            self.request = self.server.tls.wrap_socket(self.request, server_side=True)
            self.safe = True
        super().setup()

    def finish(self):
        super().finish()
        self.connection.close()

    def handle(self):
        server = self.server
        self.say(220, "small.example ready")
        sender, to = "", []
        while line := self.rfile.readline():
            verb, _, rest = line.decode().strip().partition(" ")
            verb = verb.upper()
            if verb == "EHLO":
                self.offer()
            elif verb == "STARTTLS" and self.server.tls is not None:
                self.say(220, "go on in private")
                self.connection = self.server.tls.wrap_socket(self.connection, server_side=True)
                self.rfile, self.wfile, self.safe = (
                    self.connection.makefile("rb"),
                    self.connection.makefile("wb", 0),
                    True,
                )
            elif verb == "AUTH":
                given = base64.b64decode(rest.partition(" ")[2]).decode().split("\0")[1:]
                server.signed_in.append(tuple(given))
                server.in_private.append(self.safe)
                self.say(*((235, "welcome") if given == list(server.wants) else (535, "who are you")))
            elif verb == "MAIL":
                sender, to = rest, []
                self.say(250, "go on")
            elif verb == "RCPT":
                address = rest.partition("<")[2].partition(">")[0]
                code, words = server.refuses.get(address, (250, "go on"))
                if code == 250:
                    to.append(address)
                self.say(code, words)
            elif verb == "DATA":
                if server.data_answer[0] != 354:
                    self.say(*server.data_answer)
                    continue
                self.say(354, "end with a dot")
                self.take(sender, to)
            elif verb == "RSET":
                self.say(250, "forgotten")
            elif verb == "QUIT":
                self.say(221, "good bye")
                return
            else:
                self.say(502, "not known here")

    def offer(self):
        """Say what the server can: as most do, no password before the talk is private where it can be."""
        can = ["small.example", "8BITMIME"]
        if self.server.tls is None or self.safe:
            can.append("AUTH PLAIN")
        if self.server.tls is not None and not self.safe:
            can.append("STARTTLS")
        for place, one in enumerate(can, 1):
            self.wfile.write(f"250{'-' if place < len(can) else ' '}{one}\r\n".encode())

    def take(self, sender, to):
        lines = []
        while (line := self.rfile.readline()) != b".\r\n":
            lines.append(line.removeprefix(b"."))
        message = email.message_from_bytes(b"".join(lines), policy=email.policy.default)
        with self.server.lock:
            self.server.taken.append((sender, to, message))
            self.server.in_private.append(self.safe)
        self.say(250, "taken")

    def say(self, code, words):
        self.wfile.write(f"{code} {words}\r\n".encode())


class SmallMailServer(socketserver.ThreadingTCPServer):
    """taken: (sender, recipients, message) of every e-mail; refuses: address -> (code, words).

    tls: how it speaks in private, None for not at all; starts: by STARTTLS, else from the first byte; in_private: for
    every password and e-mail whether it came in private.
    """

    allow_reuse_address = True
    daemon_threads = True

    def __init__(self, tls=None, *, starts=False):
        super().__init__(("127.0.0.1", 0), _Talk)
        self.tls, self.starts, self.in_private, self.troubles = tls, starts, [], []
        self.taken, self.refuses, self.signed_in = [], {}, []
        self.data_answer, self.wants, self.lock = (354, ""), ("user", "password"), threading.Lock()
        self.port = self.server_address[1]

    def handle_error(self, request, client_address):
        """Keep what broke a talk: a client that hangs up is part of the tests."""
        self.troubles.append(sys.exc_info()[1])


@contextlib.contextmanager
def small_mail_server(tls=None, *, starts=False):
    """Run the server in a thread until the block ends."""
    with SmallMailServer(tls, starts=starts) as server:
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True)
        thread.start()
        try:
            yield server
        finally:
            server.shutdown()
            thread.join()
