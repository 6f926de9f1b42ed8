#!/usr/bin/env python3
"""A hull scan sent to the local server: whole or not at all, whoever sends it, whatever the disk says.

    test_upload.py SERVER_HOST SOURCE
"""
import hashlib
import os
import signal
import sys
import time

import serve
from serve import SCAN, Host, expect, read_all, until

MOST = 256 << 20


def head(host, path, length, *headers, origin=True, token=True):
    lines = [f"POST {path} HTTP/1.1", f"Host: {host.name}", SCAN, f"Content-Length: {length}", *headers]
    lines += [f"Origin: {host.origin}"] if origin else []
    lines += [f"Careen-Token: {host.token}"] if token else []
    return ("\r\n".join(lines) + "\r\n\r\n").encode()


def send(host, path, body, *headers, **more):
    return host.raw(head(host, path, len(body), *headers, **more) + body)


def test_whole(host):
    for name, length in (("empty.stl", 0), ("one.stl", 1), ("hull.stl", 3_000_001)):
        body = os.urandom(length)
        answer = send(host, f"/scan?name={name}", body)
        expect(answer.status == 200 and answer.text == f"{length} {hashlib.sha256(body).hexdigest()}\n", answer.raw)
        kept = host.scans / name
        expect(kept.read_bytes() == body, name)
        kept.unlink()
    expect(send(host, "/dunlin/scan?name=a.stl", b"abc").status == 200, "of one boat of a folder")
    (host.scans / "a.stl").unlink()


def test_bounded_memory(host):
    before, length = host.memory_kb(), 64 << 20
    with host.connect() as s:
        s.sendall(head(host, "/scan?name=big.stl", length))
        block = bytes(1 << 20)
        for _ in range(length // len(block)):
            s.sendall(block)
        answer = serve.Answer(read_all(s, 60))
    expect(answer.status == 200 and answer.text.startswith(f"{length} "), answer.raw)
    if not serve.SANITIZED:
        expect(host.memory_kb() < before + 8000, "from", before, "to", host.memory_kb(), "kB")
    (host.scans / "big.stl").unlink()


def test_too_long(host):
    with host.connect() as s:
        s.sendall(head(host, "/scan?name=a", MOST))
        until(lambda: os.listdir(host.scans), what="the longest being let in")
    until(lambda: not os.listdir(host.scans), 2, "removing the part")
    for length in (MOST + 1, 10 << 30):
        for headers in ((), ("Expect: 100-continue",)):
            answer = host.raw(head(host, "/scan?name=a", length, *headers))
            expect(answer.status == 413 and b"100 Continue" not in answer.raw, length, answer.raw)
    raw = head(host, "/scan?name=a", 0).replace(b"Content-Length: 0", b"Transfer-Encoding: chunked")
    expect(host.raw(raw + b"3\r\nabc\r\n0\r\n\r\n").status == 411, "chunked")
    expect(host.raw(head(host, "/scan?name=a", 0).replace(b"Content-Length: 0\r\n", b"")).status == 411, "no length")
    answer = host.raw(head(host, "/scan?name=a", 3, "Expect: 100-continue") + b"abc")
    expect(b"100 Continue" in answer.raw and answer.raw.endswith(hashlib.sha256(b"abc").hexdigest().encode() + b"\n"), answer.raw)
    (host.scans / "a").unlink()
    expect(not os.listdir(host.scans), os.listdir(host.scans))


def test_who_may(host):
    ask = {
        "no token": send(host, "/scan?name=a", b"abc", token=False),
        "wrong token": send(host, "/scan?name=a", b"abc", f"Careen-Token: {host.token}x", token=False),
        "wrong token in the address": send(host, "/scan?name=a&token=x", b"abc", token=False),
        "no origin": send(host, "/scan?name=a", b"abc", origin=False),
        "other origin": send(host, "/scan?name=a", b"abc", "Origin: http://evil.example", origin=False),
        "another site": send(host, "/scan?name=a", b"abc", "Sec-Fetch-Site: cross-site"),
    }
    for name, answer in ask.items():
        expect(answer.status == 403, name, answer.status)
    expect(host.raw(head(host, "/scan?name=a", 3).replace(host.name.encode(), b"evil.example", 1) + b"abc").status == 421)
    expect(host.ask("POST", "/notscan?name=a", SCAN, f"Origin: {host.origin}", body=b"abc").status == 415)
    expect(not os.listdir(host.scans), os.listdir(host.scans))
    expect(send(host, f"/scan?name=a&token={host.token}", b"abc", token=False).status == 200, "the token in the address")
    (host.scans / "a").unlink()


def test_who_may_from_another_machine():
    address = serve.lan_address()
    expect(address, "this machine has no address besides loopback: this cannot be tried")
    with Host(listen=address) as host:
        raw = head(host, "/scan?name=a", 3).replace(host.name.encode(), f"{address}:{host.port}".encode())
        expect(host.raw(raw + b"abc", address=address).status == 401 and not os.listdir(host.scans))
        key = f"Cookie: careen-{host.port}={host.lan.split('=')[1]}\r\n".encode()
        expect(host.raw(raw[:-2] + key + b"\r\nabc", address=address).status == 200)


def test_where_it_may_lie(host):
    expect(send(host, "/scan", b"abc").status == 404)
    answer = send(host, "/scan?name=a/b", b"abc")
    expect(answer.status == 422 and answer.text == "a scan has a plain name\n", answer.raw)
    (host.scans / "there").write_bytes(b"before")
    answer = send(host, "/scan?name=there", b"abc")
    expect(answer.status == 409 and (host.scans / "there").read_bytes() == b"before", answer.raw)
    (host.scans / "there").unlink()
    expect(send(host, "/scan?name=" + "a" * 250, b"abc").status == 500, "longer than a file name may be")
    expect(not os.listdir(host.scans), os.listdir(host.scans))
    host.scans.rmdir()
    answer = send(host, "/scan?name=a", b"x" * 1000)
    expect(answer.status == 500 and "cannot be kept" in answer.text, answer.raw)
    host.scans.mkdir()


def test_cut_in_the_middle(host):
    files = host.files_open()
    for body in (b"", b"x" * 100000):
        s = host.connect()
        s.sendall(head(host, "/scan?name=a", 1 << 20) + body)
        until(lambda: os.listdir(host.scans), what="the part")
        expect(not (host.scans / "a").exists(), "never under its name before all is there")
        s.close()
        until(lambda: not os.listdir(host.scans), 2, "removing the part")
    until(lambda: host.files_open() <= files, 2, "closing the part")


def test_silence_in_the_middle():
    with Host(header_s=1, silence_s=2) as host:
        with host.connect() as s:
            began = time.monotonic()
            s.sendall(head(host, "/scan?name=a", 1 << 20) + b"x" * 1000)
            until(lambda: os.listdir(host.scans), what="the part")
            for _ in range(3):
                time.sleep(0.7)
                s.sendall(b"x" * 1000)
            expect(os.listdir(host.scans), "slower than the deadline of a form, but it goes on")
            expect(read_all(s, 6) == b"" and time.monotonic() - began < 7)
        until(lambda: not os.listdir(host.scans), 2, "removing the part")


def test_disk_full():
    with Host(file_size=1 << 20) as host:
        body = os.urandom(3 << 20)
        for _ in range(3):
            answer = send(host, "/scan?name=a", body)
            expect(answer.status == 507 and "no room" in answer.text, answer.raw[:300])
            until(lambda: not os.listdir(host.scans), 2, "removing the part")
        expect(send(host, "/scan?name=a", body[:1000]).status == 200, "a smaller one fits")


def test_several_at_once(host):
    sending = []
    for i in range(4):
        s = host.connect()
        s.sendall(head(host, f"/scan?name={i}", 1000) + b"x" * 500)
        sending.append(s)
    until(lambda: len(os.listdir(host.scans)) == 4, what="four parts")
    answer = send(host, "/scan?name=5", b"abc")
    expect(answer.status == 503 and answer.header("Retry-After"), answer.raw)
    expect(host.get("/").status == 200, "pages go on")
    for s in sending:
        s.sendall(b"x" * 500)
        expect(serve.Answer(read_all(s)).status == 200)
        s.close()
    expect(sorted(os.listdir(host.scans)) == ["0", "1", "2", "3"])
    for i in range(4):
        (host.scans / str(i)).unlink()
    until(lambda: send(host, "/scan?name=5", b"abc").status == 200, 2, "room again")
    (host.scans / "5").unlink()


def test_same_name_at_once(host):
    first, second = host.connect(), host.connect()
    for s, letter in ((first, b"1"), (second, b"2")):
        s.sendall(head(host, "/scan?name=a", 1000) + letter * 500)
    until(lambda: len(os.listdir(host.scans)) == 2, what="two parts")
    first.sendall(b"1" * 500)
    expect(serve.Answer(read_all(first)).status == 200)
    second.sendall(b"2" * 500)
    expect(serve.Answer(read_all(second)).status == 409)
    expect((host.scans / "a").read_bytes() == b"1" * 1000 and len(os.listdir(host.scans)) == 1)
    (host.scans / "a").unlink()


def test_stop_in_the_middle():
    with Host() as host:
        with host.connect() as s:
            s.sendall(head(host, "/scan?name=a", 1 << 20) + b"x" * 1000)
            until(lambda: os.listdir(host.scans), what="the part")
            began = time.monotonic()
            host.process.send_signal(signal.SIGTERM)
            expect(host.process.wait(10) == 0 and time.monotonic() - began < 4, host.process.returncode)
        expect(not os.listdir(host.scans), "nothing is left over", os.listdir(host.scans))


if __name__ == "__main__":
    serve.main(sys.modules[__name__], Host())
