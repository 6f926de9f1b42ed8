#!/usr/bin/env python3
"""What slow, silent and too many clients cost the local server. Deadlines are short here.

    test_patience.py SERVER_HOST SOURCE
"""
import resource
import sys
import time

import serve
from serve import FORM, Host, expect, read_all, until

soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
resource.setrlimit(resource.RLIMIT_NOFILE, (min(hard, 4096), hard))


def seconds_to_close(s, seconds=10):
    began = time.monotonic()
    read_all(s, seconds)
    return time.monotonic() - began


def test_09_drip_of_headers():
    with Host(header_s=2, silence_s=3) as host:
        with host.connect() as s:
            began = time.monotonic()
            s.sendall(f"GET / HTTP/1.1\r\nHost: {host.name}\r\n".encode())
            try:
                while time.monotonic() - began < 6:
                    s.sendall(b"X: y\r\n")
                    time.sleep(0.1)
            except ConnectionError:
                pass
            expect(1 < time.monotonic() - began < 4, "cut after", time.monotonic() - began)
        expect(host.get("/").status == 200)


def test_09_half_a_body_and_silence():
    with Host(header_s=2, silence_s=3) as host:
        base = host.files_open()
        silent, half = host.connect(), host.connect()
        half.sendall(f"POST /save HTTP/1.1\r\nHost: {host.name}\r\nOrigin: {host.origin}\r\n{FORM}\r\nContent-Length: 50\r\n\r\nabc".encode())
        for s in (half, silent):
            expect(seconds_to_close(s) < 4)
            s.close()
        until(lambda: host.files_open() <= base, what="giving the connections back")
        expect(host.get("/").status == 200)


def test_09_answer_never_read():
    with Host(header_s=2, silence_s=2) as host:
        host.get("/")
        base, memory = host.files_open(), host.memory_kb()
        with host.open("/big?mb=30", receive=4096) as s:
            until(lambda: host.memory_kb() > memory + 25000, what="the answer")
            until(lambda: host.files_open() <= base, what="giving up")
        if not serve.SANITIZED:
            until(lambda: host.memory_kb() < memory + 8000, what="the memory back")
        answer = host.get("/big?mb=30")
        expect(len(answer.body) == 30 << 20, "one who reads gets all of it")


def test_09_slow_reader_gets_all():
    with Host(header_s=1, silence_s=2) as host:
        with host.open("/big?mb=8", receive=4096) as s:
            got, end = 0, time.monotonic() + 3
            while chunk := s.recv(1 << 20 if time.monotonic() > end else 4096):
                got += len(chunk)
                if time.monotonic() < end:
                    time.sleep(0.05)
            expect(got > 8 << 20, "longer than every deadline, but never silent", got)


def test_09_slow_answer_is_no_silence():
    with Host(header_s=1, silence_s=1) as host:
        answer = host.get("/slow?ms=2500")
        expect(answer.status == 200 and answer.text == "done\n", answer.raw)


def test_14_flood_of_idle_connections():
    with Host(header_s=2, silence_s=3) as host:
        host.get("/")
        base, before = host.files_open(), host.processor_s()
        idle = [host.connect() for _ in range(600)]
        until(lambda: host.files_open() > base + 500, what="the flood")
        expect(host.files_open() <= base + 513, "more than the cap:", host.files_open() - base)
        began = time.monotonic()
        until(lambda: host.get("/").status == 200, 5, "answering again")
        expect(time.monotonic() - began < 4, time.monotonic() - began)
        for s in idle:
            s.close()
        until(lambda: host.files_open() <= base, what="giving all back")
        if not serve.SANITIZED:
            expect(host.processor_s() - before < 2, "it spun:", host.processor_s() - before)


def test_14_few_descriptors():
    """At the limit of descriptors a listener would spin; the cap lies at half of it."""
    with Host(header_s=2, files=120) as host:
        idle = [host.connect() for _ in range(200)]
        time.sleep(0.5)
        expect(host.files_open() < 100, host.files_open())
        for s in idle:
            s.close()
        until(lambda: host.get("/").status == 200, what="answering again")


if __name__ == "__main__":
    serve.main(sys.modules[__name__])
