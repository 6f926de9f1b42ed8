#!/usr/bin/env python3
"""Event streams of the local server: told at once, together, and rid of who does not read.

    test_streams.py SERVER_HOST SOURCE
"""
import concurrent.futures
import re
import sys
import threading
import time

import serve
from serve import Host, expect, read_all, read_until, until


def test_15_streams():
    with Host() as host:
        host.post("/save", "value=1")
        base = host.files_open()
        streams = [host.stream() for _ in range(300)]
        heads = [serve.Answer(read_until(s, b"\r\n\r\n")) for s in streams]
        good = [(s, h) for s, h in zip(streams, heads) if h.status == 200]
        refused = [h for h in heads if h.status == 503]
        expect(len(good) == 256 and len(refused) == 44, len(good), len(refused))
        expect(all(h.header("Retry-After") for h in refused))
        for s, h in good:
            first = h.body if b"\n\n" in h.body else h.body + read_until(s, b"\n\n")
            expect(b"event: revision\ndata: 1\nid: 1\n\n" in first, "one at connect", first)
            expect(h.header("Content-Type") == "text/event-stream" and h.header("Cache-Control") == "no-store", h.raw)
        host.post("/save", "value=2")
        for s, _ in good:
            read_until(s, b"event: revision\ndata: 2\nid: 2\n\n")
        for s in streams:
            s.close()
        until(lambda: host.files_open() <= base, 2, "noticing that they left")
        with host.stream() as again:
            expect(b"data: 2" in read_until(again, b"\n\n"))
        expect(host.ask("HEAD", "/events").status == 200 and host.get("/x/events").status == 404)
        expect(host.post("/events", "a=1").status == 404, "a stream is read")


def test_15_told_at_once_and_together():
    with Host() as host:
        token = host.token
        with host.stream() as s:
            read_until(s, b"\n\n")
            for n in range(1, 21):
                host.post("/save", "value=1")
                read_until(s, f"data: {n}\nid: {n}\n\n".encode())
                time.sleep(0.02)
            began = time.monotonic()
            with concurrent.futures.ThreadPoolExecutor(8) as pool:
                list(pool.map(lambda _: host.post("/save", "value=1", token=token), range(200)))
            raw = read_until(s, b"data: 220\nid: 220\n\n")
            most = 2 + (time.monotonic() - began) / 0.010
            told = [int(n) for n in re.findall(rb"data: (\d+)\n", raw)]
            expect(told == sorted(set(told)) and len(told) <= most, "in order, one in 10 ms", most, told)


def test_15_deaf_readers():
    """Nobody waits for one who does not read: he is dropped, the others are told."""
    with Host(queue=1500) as host:
        token = host.token
        base = host.files_open()
        deaf = [host.stream(receive=2304) for _ in range(5)]
        with host.stream() as reader:
            read_until(reader, b"\n\n")
            until(lambda: host.files_open() >= base + 6, what="the streams")
            done = threading.Event()

            def talk():
                while not done.is_set():
                    host.post("/save", "value=1", token=token)
            threads = [threading.Thread(target=talk) for _ in range(2)]
            for thread in threads:
                thread.start()
            heard = 0
            try:
                def dropped():
                    nonlocal heard
                    heard += len(reader.recv(1 << 16))
                    return host.files_open() <= base + 3  # the reader and who talks
                until(dropped, 15, "dropping the deaf")
            finally:
                done.set()
                for thread in threads:
                    thread.join()
            last = int(host.post("/save", "value=1").text.split()[0])
            read_until(reader, f"data: {last}\nid".encode())
            expect(heard > 5 * 1500)
        for s in deaf:
            s.close()


def test_15_who_talks_on_a_stream():
    with Host() as host:
        with host.stream() as s:
            read_until(s, b"\n\n")
            s.sendall(f"GET / HTTP/1.1\r\nHost: {host.name}\r\n\r\n".encode())
            rest = read_all(s, 2)
            expect(b"HTTP/1.1" not in rest, rest)


def test_memory_is_flat():
    """Pages, edits and leaving clients, with streams open: nothing is kept of them."""
    with Host() as host:
        token = host.token
        streams = [host.stream() for _ in range(20)]

        def use(n):
            for _ in range(n):
                host.get("/")
                host.post("/save", "value=1", token=token)
                host.get("/assets/htmx.min.js")
                host.connect().close()
                with host.connect() as s:
                    s.sendall(b"GET / HTTP/1.1\r\n")
            for s in streams:
                s.recv(1 << 20)
        use(200)
        files, memory = host.files_open(), host.memory_kb()
        use(400)
        until(lambda: host.files_open() <= files, what="closing what was left")
        if not serve.SANITIZED:
            expect(host.memory_kb() < memory * 1.1 + 500, "grew from", memory, "to", host.memory_kb(), "kB")
        for s in streams:
            s.close()


if __name__ == "__main__":
    serve.main(sys.modules[__name__])
