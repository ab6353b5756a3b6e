"""A small mail server of the tests' own (RFC 5321, the few verbs that a sender needs), that can refuse and keep."""

import base64
import contextlib
import email
import email.policy
import socketserver
import threading


class _Talk(socketserver.StreamRequestHandler):
    def handle(self):
        server = self.server
        self.say(220, "small.example ready")
        sender, to = "", []
        while line := self.rfile.readline():
            verb, _, rest = line.decode().strip().partition(" ")
            verb = verb.upper()
            if verb == "EHLO":
                self.wfile.write(b"250-small.example\r\n250-AUTH PLAIN\r\n250 8BITMIME\r\n")
            elif verb == "AUTH":
                given = base64.b64decode(rest.partition(" ")[2]).decode().split("\0")[1:]
                server.signed_in.append(tuple(given))
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

    def take(self, sender, to):
        lines = []
        while (line := self.rfile.readline()) != b".\r\n":
            lines.append(line.removeprefix(b"."))
        message = email.message_from_bytes(b"".join(lines), policy=email.policy.default)
        with self.server.lock:
            self.server.taken.append((sender, to, message))
        self.say(250, "taken")

    def say(self, code, words):
        self.wfile.write(f"{code} {words}\r\n".encode())


class SmallMailServer(socketserver.ThreadingTCPServer):
    """taken: (sender, recipients, message) of every e-mail; refuses: address -> (code, words)."""

    allow_reuse_address = True
    daemon_threads = True

    def __init__(self):
        super().__init__(("127.0.0.1", 0), _Talk)
        self.taken, self.refuses, self.signed_in = [], {}, []
        self.data_answer, self.wants, self.lock = (354, ""), ("user", "password"), threading.Lock()
        self.port = self.server_address[1]


@contextlib.contextmanager
def small_mail_server():
    """Run the server in a thread until the block ends."""
    with SmallMailServer() as server:
        thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True)
        thread.start()
        try:
            yield server
        finally:
            server.shutdown()
            thread.join()
