#!/usr/bin/env python3
"""Work beside the main thread of the local server, and its orderly end.

    test_stop.py SERVER_HOST SOURCE
"""
import concurrent.futures
import signal
import sys
import time

import serve
from serve import Host, expect, read_all, read_until, until


def test_workers_save_in_order_and_others_pass():
    """A slow study hinders neither pages nor edits."""
    with Host() as host:
        token = host.token
        with concurrent.futures.ThreadPoolExecutor(3) as pool:
            slow = pool.submit(host.get, "/slow?ms=1500")
            time.sleep(0.1)
            expect(host.post("/save", "value=1", token=token).status == 200)
            expect(host.get("/").status == 200)
            expect(not slow.done(), "they did not wait for it")
            expect(slow.result().status == 200)


def test_workers_too_many_edits_wait():
    with Host() as host:
        token = host.token
        with concurrent.futures.ThreadPoolExecutor(100) as pool:
            answers = list(pool.map(lambda _: host.post("/save", "value=z", token=token), range(100)))
        served = [a for a in answers if a.status == 200]
        refused = [a for a in answers if a.status == 503]
        expect(len(served) + len(refused) == 100 and 64 <= len(served) < 100, len(served), len(refused))
        expect(all(a.header("Retry-After") for a in refused))
        revisions = sorted(int(a.text.split()[0]) for a in served)
        expect(revisions == list(range(1, len(served) + 1)), "every edit that was answered was saved, no other")


def test_workers_stop_when_nobody_waits():
    with Host() as host:
        s = host.open("/slow?ms=20000&stops=1")
        time.sleep(0.2)
        s.close()
        until(lambda: host.get("/cancelled").text == "1\n", 2, "the study stopping")


def test_stop_gives_answers_and_ends_streams():
    with Host() as host:
        token = host.token
        with concurrent.futures.ThreadPoolExecutor(3) as pool:
            slow = pool.submit(host.get, "/slow?ms=700")
            edits = [pool.submit(host.post, "/save", "value=z", token=token) for _ in range(2)]
            stream = host.stream()
            read_until(stream, b"\n\n")
            time.sleep(0.1)
            began = time.monotonic()
            host.process.send_signal(signal.SIGTERM)
            time.sleep(0.1)
            expect(read_all(stream).endswith(b"0\r\n\r\n"), "the stream ends in order")
            try:
                host.connect().close()
            except ConnectionRefusedError:
                pass
            else:
                raise serve.Failed("still open")
            expect(slow.result().text == "done\n" and all(e.result().status == 200 for e in edits))
            expect(host.process.wait(5) == 0 and time.monotonic() - began < 2, time.monotonic() - began)
            stream.close()


def test_stop_within_three_seconds():
    with Host() as host:
        idle, s = host.connect(), host.open("/slow?ms=20000")
        time.sleep(0.2)
        began = time.monotonic()
        host.process.send_signal(signal.SIGTERM)
        expect(host.process.wait(10) == 4, host.process.returncode)  # the host's word for work that does not stop
        expect(2.5 < time.monotonic() - began < 4, time.monotonic() - began)
        idle.close()
        s.close()


def test_stop_at_once_by_idle_connections_and_a_study_that_can_stop():
    with Host() as host:
        idle, s = host.connect(), host.open("/slow?ms=20000&stops=1")
        time.sleep(0.2)
        began = time.monotonic()
        host.process.send_signal(signal.SIGINT)
        expect(host.process.wait(10) == 0 and time.monotonic() - began < 1.5, host.process.returncode, time.monotonic() - began)
        idle.close()
        s.close()


def test_stop_second_signal():
    with Host() as host:
        s = host.open("/slow?ms=20000")
        time.sleep(0.2)
        host.process.send_signal(signal.SIGINT)
        time.sleep(0.2)
        began = time.monotonic()
        host.process.send_signal(signal.SIGINT)
        expect(host.process.wait(5) == 4 and time.monotonic() - began < 1, host.process.returncode)
        s.close()


if __name__ == "__main__":
    serve.main(sys.modules[__name__])
