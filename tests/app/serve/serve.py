"""What the tests of the local server share: a server without a boat, raw requests, and counting checks."""
import os
import pathlib
import re
import resource
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
import traceback

HOST = os.path.abspath(sys.argv[1])
SANITIZED = b"__asan_init" in pathlib.Path(HOST).read_bytes()
FORM = "Content-Type: application/x-www-form-urlencoded"
SCAN = "Content-Type: application/octet-stream"


class Failed(Exception):
    pass


def expect(condition, *shown):
    if not condition:
        raise Failed(" ".join(str(s) for s in shown))


def lan_address():
    """An address of this machine that is no loopback, or None. Nothing is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as s:
        try:
            s.connect(("192.0.2.77", 9))
            address = s.getsockname()[0]
        except OSError:
            return None
    return None if address.startswith("127.") else address


class Answer:
    def __init__(self, raw):
        self.raw = raw
        head, _, self.body = raw.partition(b"\r\n\r\n")
        lines = head.decode("latin-1").split("\r\n")
        found = re.match(r"HTTP/1\.[01] (\d{3}) ", lines[0])
        self.status = int(found[1]) if found else 0
        self.headers = {}
        for line in lines[1:]:
            name, _, value = line.partition(":")
            self.headers.setdefault(name.lower(), []).append(value.strip())

    def header(self, name):
        return self.headers.get(name.lower(), [None])[0]

    @property
    def text(self):
        return self.body.decode("utf-8")


def read_all(s, seconds=10):
    """All that comes until the other end closes; what came is kept when it resets."""
    s.settimeout(seconds)
    raw = bytearray()
    try:
        while chunk := s.recv(1 << 20):
            raw += chunk
    except ConnectionError:
        pass
    return bytes(raw)


def read_until(s, wanted, seconds=5):
    s.settimeout(seconds)
    raw = b""
    while wanted not in raw:
        chunk = s.recv(1 << 16)
        expect(chunk, "closed before", wanted, raw[-200:])
        raw += chunk
    return raw


class Host:
    """The server, in a folder of its own."""

    def __init__(self, header_s=20, silence_s=30, listen="", port=0, queue=0, state=None, files=1400, file_size=None):
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="careen-serve-"))
        self.state = state or self.folder / "state"
        self.scans = self.folder / "scans"
        self.scans.mkdir()

        def limits():
            resource.setrlimit(resource.RLIMIT_NOFILE, (files, files))
            if file_size is not None:
                resource.setrlimit(resource.RLIMIT_FSIZE, (file_size, file_size))

        self.process = subprocess.Popen(
            [HOST, str(self.state), str(self.scans), str(header_s), str(silence_s), listen, str(port), str(queue)],
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, preexec_fn=limits)
        self.address = self.process.stdout.readline().decode().strip()
        self.lan = self.process.stdout.readline().decode().strip()
        if not self.address:
            self.error = self.process.stderr.read().decode()
            self.process.wait()
            raise Failed(f"the server did not start: {self.error}")
        self.port = int(re.search(r":(\d+)/$", self.address)[1])
        self.name = f"127.0.0.1:{self.port}"
        self.origin = f"http://{self.name}"
        self._token = None

    def __enter__(self):
        return self

    def __exit__(self, *_):
        if self.process.poll() is None:
            self.stop()
        shutil.rmtree(self.folder, ignore_errors=True)

    def stop(self, status=0):
        self.process.send_signal(signal.SIGTERM)
        try:
            out, err = self.process.communicate(timeout=20)
        except subprocess.TimeoutExpired:
            self.process.kill()
            raise Failed("the server did not stop") from None
        expect(self.process.returncode == status, "ended by", self.process.returncode, err.decode("utf-8", "replace"))
        expect(not err, "said:", err.decode("utf-8", "replace"))

    def connect(self, address="127.0.0.1", receive=None):
        s = socket.socket(socket.AF_INET6 if ":" in address else socket.AF_INET)
        if receive:
            s.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, receive)
        s.settimeout(10)
        s.connect((address, self.port))
        return s

    def raw(self, request, address="127.0.0.1", seconds=10):
        """Sends bytes as they are."""
        with self.connect(address) as s:
            try:
                s.sendall(request)
            except ConnectionError:
                pass
            return Answer(read_all(s, seconds))

    def ask(self, method, path, *headers, body=b"", host=None, address="127.0.0.1"):
        """A well-formed request; host "" leaves Host out."""
        host = self.name if host is None else host
        lines = [f"{method} {path} HTTP/1.1"] + ([f"Host: {host}"] if host else []) + list(headers)
        if body and not any(h.lower().startswith("content-length") for h in headers):
            lines.append(f"Content-Length: {len(body)}")
        return self.raw("\r\n".join(lines).encode("utf-8", "surrogateescape") + b"\r\n\r\n" + body, address)

    def get(self, path, *headers, **more):
        return self.ask("GET", path, *headers, **more)

    def post(self, path, text, *headers, token=True, origin=None, kind=FORM, **more):
        origin = self.origin if origin is None else origin
        body = (f"token={self.token}&" if token is True else f"token={token}&" if token else "") + text
        said = [f"Origin: {origin}"] if origin else []
        return self.ask("POST", path, *said, kind, *headers, body=body.encode(), **more)

    def open(self, path, **more):
        """Asks and leaves the connection open."""
        s = self.connect(**more)
        s.sendall(f"GET {path} HTTP/1.1\r\nHost: {self.name}\r\n\r\n".encode())
        return s

    def stream(self, **more):
        return self.open("/events", **more)

    @property
    def token(self):
        if self._token is None:
            self._token = re.search(r"</title>(\S+)", self.get("/").text)[1]
        return self._token

    def files_open(self):
        return len(os.listdir(f"/proc/{self.process.pid}/fd"))

    def memory_kb(self):
        status = pathlib.Path(f"/proc/{self.process.pid}/status").read_text()
        return int(re.search(r"VmRSS:\s+(\d+)", status)[1])

    def processor_s(self):
        fields = pathlib.Path(f"/proc/{self.process.pid}/stat").read_text().rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def until(condition, seconds=5, what="it"):
    end = time.monotonic() + seconds
    while not condition():
        expect(time.monotonic() < end, what, "did not happen within", seconds, "s")
        time.sleep(0.02)


def main(module, shared=None):
    """Runs every function test_* of the module and counts. With shared, they get that one server."""
    passed = failed = 0
    for name, test in list(vars(module).items()):
        if not name.startswith("test_"):
            continue
        began = time.monotonic()
        try:
            test(*([shared] if shared and test.__code__.co_argcount else []))
            passed += 1
        except Exception:  # noqa: BLE001  every way to fail counts
            failed += 1
            print(f"FAILED: {name}")
            traceback.print_exc(file=sys.stdout)
        print(f"{time.monotonic() - began:6.2f} s {name}")
    if shared:
        try:
            shared.stop()
            passed += 1
        except Failed:
            failed += 1
            print("FAILED: the server ends well")
            traceback.print_exc(file=sys.stdout)
    print(f"{passed} passed, {failed} failed")
    sys.exit(1 if failed or not passed else 0)
