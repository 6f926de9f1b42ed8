#!/usr/bin/env python3
"""Who may ask what of the local server, by raw sockets: one test for each line of the list that the gate was built by.

    test_gate.py SERVER_HOST
"""
import os
import pathlib
import random
import re
import socket
import struct
import sys

import serve
from serve import FORM, Host, expect, lan_address

STRICT = {
    "content-security-policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; "
                               "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "connection": "close",
}


def listening(port):
    """Addresses on which somebody listens at that port, as the kernel says."""
    found = set()
    for table, family in (("tcp", socket.AF_INET), ("tcp6", socket.AF_INET6)):
        for line in pathlib.Path("/proc/net", table).read_text().splitlines()[1:]:
            local, state = line.split()[1], line.split()[3]
            address, _, hexport = local.partition(":")
            if state == "0A" and int(hexport, 16) == port:
                words = struct.unpack(f">{len(address) // 8}I", bytes.fromhex(address))
                found.add(socket.inet_ntop(family, struct.pack(f"={len(words)}I", *words)))
    return found


def test_01_loopback_only(host):
    expect(listening(host.port) <= {"127.0.0.1", "::1"}, listening(host.port))
    expect("127.0.0.1" in listening(host.port), listening(host.port))
    if "::1" in listening(host.port):
        expect(host.get("/", host=f"[::1]:{host.port}", address="::1").status == 200)
    if lan_address():
        try:
            host.connect(lan_address()).close()
        except ConnectionRefusedError:
            return
        raise serve.Failed("somebody answers at the address others have")


def test_02_host(host):
    port = host.port
    for good in (f"127.0.0.1:{port}", f"localhost:{port}", f"[::1]:{port}", f"LOCALHOST:{port}"):
        expect(host.get("/", host=good).status == 200, good)
    for bad in ("evil.example", f"evil.example:{port}", f"localhost.:{port}", "localhost", "127.0.0.1", f"127.0.0.1:{port + 1}",
                f"127.0.0.1:{port}0", f"0x7f.1:{port}", f"127.0.0.2:{port}", f"127.0.0.1:{port}.evil.example", f"user@127.0.0.1:{port}",
                f"127.0.0.1:{port}, evil.example"):
        expect(host.get("/", host=bad).status in (400, 421), bad, host.get("/", host=bad).status)
    expect(host.get("/", host=f"evil.example:{port}").status == 421)
    expect(host.get("/", host="").status in (400, 421), "none")


def test_02_host_twice(host):
    for one, two in ((host.name, "evil.example"), ("evil.example", host.name), (host.name, host.name)):
        answer = host.get("/", f"Host: {two}", host=one)
        expect(answer.status in (400, 421), one, two, answer.status)


def test_02_host_in_the_address(host):
    for uri in ("http://evil.example/", f"http://evil.example:{host.port}/", "http://127.0.0.1:1/"):
        answer = host.get(uri)
        expect(answer.status in (400, 421), uri, answer.status)
    answer = host.get(f"http://{host.name}/")
    expect(answer.status == 200, answer.status)


def test_03_other_site_reads(host):
    def status(site, mode="no-cors", target="image"):
        return host.get("/", f"Sec-Fetch-Site: {site}", f"Sec-Fetch-Mode: {mode}", f"Sec-Fetch-Dest: {target}").status
    for site in ("cross-site", "same-site"):
        for mode, target in (("no-cors", "image"), ("no-cors", "script"), ("cors", "empty"), ("navigate", "iframe"),
                             ("navigate", "embed"), ("websocket", "document")):
            expect(status(site, mode, target) == 403, site, mode, target)
        expect(status(site, "navigate", "document") == 200, "a link from elsewhere opens")
    expect(status("same-origin") == 200 and status("none", "navigate", "document") == 200)
    expect(status("nonsense") == 403)
    answer = host.get("/", "Sec-Fetch-Site: cross-site", "Sec-Fetch-Site: same-origin")
    expect(answer.status == 403, "twice", answer.status)
    expect(host.get("/assets/careen.css", "Sec-Fetch-Site: cross-site").status == 403, "assets likewise")
    expect(host.get("/events", "Sec-Fetch-Site: cross-site").status == 403, "streams likewise")


def test_04_other_site_writes(host):
    expect(host.post("/save", "value=1").status == 200)
    for origin in ("null", "http://evil.example", f"http://127.0.0.1:{host.port + 1}", f"https://{host.name}", host.name,
                   f"http://localhost:{host.port}", host.origin + "/"):
        answer = host.post("/save", "value=1", origin=origin)
        expect(answer.status == 403, origin, answer.status)
    expect(host.post("/save", "value=1", origin="").status == 403, "neither header")
    expect(host.post("/save", "value=1", "Sec-Fetch-Site: same-origin", origin="").status == 200)
    expect(host.post("/save", "value=1", "Sec-Fetch-Site: none", origin="").status == 403)
    expect(host.post("/save", "value=1", "Sec-Fetch-Site: cross-site", "Sec-Fetch-Mode: navigate", "Sec-Fetch-Dest: document").status
           == 403, "a form of another site")
    expect(host.post("/save", "value=1", f"Origin: {host.origin}").status == 403, "twice")


def test_05_forged_form(host):
    before = host.post("/save", "value=1").text
    for token in (None, "", "x", host.token[:-1], host.token + "x", host.token.swapcase(), host.token + "%00"):
        answer = host.post("/save", "value=1", token=token)
        expect(answer.status in (400, 403), token, answer.status)
    answer = host.post("/save", f"value=1&token={host.token}x")
    expect(answer.status == 403, "the last of two counts", answer.status)
    after = host.post("/save", "value=1").text
    expect(int(after.split()[0]) == int(before.split()[0]) + 1, "nothing was saved in between", before, after)


def test_05_token_outlives_a_restart():
    with Host() as first:
        token, port = first.token, first.port
        secret = first.state / "secret"
        expect(secret.stat().st_mode & 0o777 == 0o600, oct(secret.stat().st_mode))
        boot = first.get("/").text.split()[-1]
        first.stop()
        with Host(port=port, state=first.state) as second:
            expect(second.get("/").text.split()[-1] != boot, "a restart is another boot")
            expect(second.post("/save", "value=1", token=token).status == 200, "the waiting edit goes through")
            second.stop()
        secret.chmod(0o644)
        with Host(state=first.state) as third:
            expect(third.post("/save", "value=1", token=token).status == 403, "a secret that others could read is none any more")
            expect(secret.stat().st_mode & 0o777 == 0o600, oct(secret.stat().st_mode))


def test_05_no_place_for_the_secret():
    with Host(state="/proc/nowhere") as host:
        expect(host.post("/save", "value=1").status == 200)


def test_06_kinds(host):
    expect(host.ask("HEAD", "/").status == 200 and host.ask("HEAD", "/").body == b"")
    for method in ("PUT", "DELETE", "PATCH", "TRACE", "OPTIONS", "PROPFIND"):
        answer = host.ask(method, "/")
        expect(answer.status == 405 and "GET" in answer.header("Allow"), method, answer.status)
    expect(host.ask("get", "/").status == 400)
    expect(400 <= host.ask("PUT", "/", FORM, body=b"a=1").status < 500)
    expect(400 <= host.ask("OPTIONS", "*").status < 500)
    expect(400 <= host.ask("CONNECT", "evil.example:443").status < 500)
    for kind in ("text/plain", "multipart/form-data; boundary=x", "application/json", "application/octet-stream",
                 "application/x-www-form-urlencodedx"):
        answer = host.post("/save", "value=1", kind=f"Content-Type: {kind}")
        expect(answer.status == 415, kind, answer.status)
    expect(host.post("/save", "value=1", kind="X: y").status == 415, "none said")
    expect(host.post("/save", "value=1", kind=FORM + "; charset=UTF-8").status == 200)


def test_07_key_of_other_machines():
    address = lan_address()
    expect(address, "this machine has no address besides loopback: this cannot be tried")
    with Host(listen=address) as host:
        found = re.fullmatch(rf"http://{re.escape(address)}:{host.port}/\?token=([\w-]{{24}})", host.lan)
        expect(found, host.lan)
        name, origin = f"{address}:{host.port}", f"http://{address}:{host.port}"

        def ask(path, *headers, **more):
            return host.get(path, *headers, host=name, address=address, **more)
        for path in ("/", "/assets/careen.css", "/events", "/?token=", "/?token=wrong", f"/?token={found[1][:-1]}",
                     f"/?key={found[1]}"):
            expect(ask(path).status == 401, path, ask(path).status)
        for cookie in ("", "x", found[1].swapcase(), found[1] + "x"):
            expect(ask("/", f"Cookie: careen-{host.port}={cookie}").status == 401, cookie)
        expect(ask("/", f"Cookie: careen-{host.port + 1}={found[1]}").status == 401, "a cookie of another port")
        answer = ask(f"/echo?a=1&token={found[1]}&b=2")
        expect(answer.status == 303 and answer.header("Location") == "/echo?a=1&b=2", answer.raw)
        cookie = answer.header("Set-Cookie")
        expect(cookie == f"careen-{host.port}={found[1]}; Path=/; HttpOnly; SameSite=Strict", cookie)
        expect(answer.header("Content-Security-Policy"), "strict here too")
        key = "Cookie: other=1; " + cookie.split(";")[0]
        expect(ask("/", key).status == 200)
        expect(host.post("/save", "value=1", key, origin=origin, host=name, address=address).status == 200, "edits work")
        expect(host.post("/save", "value=1", origin=origin, host=name, address=address).status == 401)
        expect(host.post(f"/save?token={found[1]}", "value=1", origin=origin, host=name, address=address).status == 401)
        expect(host.post("/save", "value=1", key, origin=host.origin, host=name, address=address).status == 403, "other origin")
        expect(host.get("/").status == 200, "this machine needs none")
        expect(host.get("/", address=address).status == 401, "what Host says changes nothing")
        expect(host.get("/", key, host=f"evil.example:{host.port}", address=address).status == 421)
        host.stop()
        with Host(listen=address) as again:
            expect(again.lan.split("=")[1] != found[1], "the key is new at each start")


def test_07_every_address_of_this_machine():
    every_address("0.0.0.0")


def test_07_every_address_of_both_kinds(host):
    if "::1" in listening(host.port):  # else this machine has no IPv6
        every_address("::")


def every_address(listen):
    with Host(listen=listen) as host:
        expect(host.get("/").status == 200)
        expect(host.get("/", host=f"evil.example:{host.port}").status == 421)
        expect(host.get("/", host=f"0.0.0.0:{host.port}").status == 421 and host.get("/", host=f"[::]:{host.port}").status == 421)
        if listening(host.port) & {"::1", "::"}:
            expect(host.get("/", host=f"[::1]:{host.port}", address="::1").status == 200)
        address = lan_address()
        if address:
            expect(host.lan.startswith(f"http://{address}:{host.port}/?token="), host.lan)
            expect(host.get("/", host=f"{address}:{host.port}", address=address).status == 401)
            answer = host.get("/" + host.lan.rpartition("/")[2], host=f"{address}:{host.port}", address=address)
            expect(answer.status == 303 and answer.header("Location") == "/", answer.raw)


def test_07_no_such_address():
    for listen, said in (("shed.example", "--listen wants an address"), ("198.51.100.1", "198.51.100.1"), ("", "65535")):
        try:
            Host(listen=listen, port=0 if listen else 70000).stop()
        except serve.Failed as problem:
            expect(said in str(problem) and "did not start" in str(problem), problem)
        else:
            raise serve.Failed(f"listens at {listen}")


def test_07_port_taken(host):
    try:
        Host(port=host.port).stop()
    except serve.Failed as problem:
        expect("taken" in str(problem), problem)
    else:
        raise serve.Failed("two servers at one port")


def test_08_too_long(host):
    said = f"Origin: {host.origin}"
    for claim in (str(10 << 30), "65537", "9" * 18, "9" * 400):
        answer = host.ask("POST", "/save", said, FORM, f"Content-Length: {claim}")
        expect(answer.status in (400, 413), claim, answer.status)
        expect(answer.status == 413 or len(claim) > 18, claim, answer.status)
        answer = host.ask("POST", "/save", said, FORM, f"Content-Length: {claim}", "Expect: 100-continue")
        expect(answer.status in (400, 413) and b"100 Continue" not in answer.raw, claim, answer.raw)
    answer = host.ask("POST", "/save", said, FORM, "Transfer-Encoding: chunked", body=b"5\r\nvalue\r\n0\r\n\r\n")
    expect(answer.status == 411, "chunked", answer.status)
    expect(host.ask("POST", "/save", said, FORM).status == 411, "no length")
    expect(host.ask("GET", "/", "Content-Length: 5", body=b"abcde").status == 400, "a GET brings nothing")
    text = "value=" + "x" * (65536 - len(host.token) - 13)
    expect(host.post("/save", text).status == 200, "just short enough")
    expect(host.post("/save", text + "x").status == 413, "one more")


def test_08_a_whole_boat_file(host):
    room = (4 << 20) - len(host.token) - 13
    answer = host.post("/edit", "value=" + "x" * room)
    expect(answer.status == 200 and answer.text.split()[1] == str(room), answer.raw[:200])
    expect(host.post("/edit", "value=" + "x" * (room + 1)).status == 413, "one more")


def test_08_refused_while_sending(host):
    """The sender of a body nobody wants sees why, although he is still sending."""
    body = b"value=" + b"x" * 900000
    for _ in range(5):
        answer = host.ask("POST", "/save", f"Origin: {host.origin}", FORM, body=body)
        expect(answer.status == 413 and "at most" in answer.text, answer.raw[:100])


def test_10_one_request_a_connection(host):
    before = int(host.post("/save", "value=1").text.split()[0])
    form = f"token={host.token}&value=1"
    second = (f"POST /save HTTP/1.1\r\nHost: {host.name}\r\nOrigin: {host.origin}\r\n{FORM}\r\nContent-Length: {len(form)}\r\n\r\n"
              f"{form}").encode()
    first = f"GET / HTTP/1.1\r\nHost: {host.name}\r\n".encode()
    for more in (b"\r\n", b"Connection: keep-alive\r\n\r\n", b"Content-Length: 0\r\n\r\n"):
        answer = host.raw(first + more + second)
        expect(answer.raw.count(b"HTTP/1.1 ") == 1 and answer.status == 200, answer.raw)
    hidden = str(len(second)).encode()
    for lengths in (b"Content-Length: 0\r\nContent-Length: " + hidden, b"Content-Length: " + hidden + b"\r\nContent-Length: 0",
                    b"Content-Length: 0\r\nTransfer-Encoding: chunked", b"Transfer-Encoding: chunked\r\nContent-Length: 0",
                    b"Transfer-Encoding : chunked\r\nContent-Length: 0", b"Transfer-Encoding: xchunked", b"Content-Length: +0",
                    b"Content-Length: 0, 0", b"Content-Length: -1", b"Content-Length: 0x0"):
        raw = (f"POST /save HTTP/1.1\r\nHost: {host.name}\r\nOrigin: {host.origin}\r\n{FORM}\r\n").encode() + lengths + b"\r\n\r\n"
        answer = host.raw(raw + second)
        expect(answer.raw.count(b"HTTP/1.1 ") <= 1, lengths, answer.raw)
        expect(answer.status == 0 or 400 <= answer.status <= 501, lengths, answer.status)
    after = int(host.post("/save", "value=1").text.split()[0])
    expect(after == before + 1, "the second was served", before, after)


def test_11_odd_requests(host):
    name = host.name.encode()
    tls = bytes.fromhex("16030100c8010000c403035b") + bytes(200)
    for raw in (b"GET /\0 HTTP/1.1\r\nHost: " + name + b"\r\n\r\n", b"GET / HTTP/9.9\r\nHost: " + name + b"\r\n\r\n", tls,
                os.urandom(3000) + b"\r\n\r\n", b"\r\n\r\n\r\n", b"GET\r\n\r\n", b"GET /\r\n\r\n", b" GET / HTTP/1.1\r\n\r\n",
                b"GET / HTTP/1.1\r\nHost: " + name + b"\r\nA\0B: c\r\n\r\n", b"GET / HTTP/1.1\r\n" + b"X: y\r\n" * 20000 + b"\r\n",
                b"GET /" + b"a" * 100000 + b" HTTP/1.1\r\nHost: " + name + b"\r\n\r\n",
                b"GET / HTTP/1.1\r\nHost: " + name + b"\r\n: empty\r\n\r\n",
                b"GET / HTTP/1.1\r\nHost: " + name + b"\r\nExpect: miracles\r\n\r\n",
                b"GET / HTTP/1.1\nHost: " + name + b"\n\n",
                b"GET http://[ HTTP/1.1\r\nHost: " + name + b"\r\n\r\n", b"GET http:///x HTTP/1.1\r\nHost: " + name + b"\r\n\r\n"):
        with host.connect() as s:
            try:
                s.sendall(raw)
                s.shutdown(socket.SHUT_WR)
            except OSError:
                pass  # cut already
            answer = serve.Answer(serve.read_all(s, 5))
        expect(answer.status == 0 or 400 <= answer.status <= 505, raw[:60], answer.status, answer.raw[:80])
    expect(host.get("/").status == 200, "still there")


def test_11_mutated_requests(host):
    """Sound requests with a few bytes changed; the same ones at each run. None is saved twice, none ends or leaks the server."""
    chance = random.Random(20261125)
    form = f"token={host.token}&value=1"
    seeds = [
        f"GET /echo?a=1&b=%20 HTTP/1.1\r\nHost: {host.name}\r\nCookie: a=b; careen-who=x\r\nReferer: {host.origin}/a\r\n"
        "Range: bytes=0-1\r\nIf-None-Match: \"a-1\"\r\nConnection: keep-alive\r\n\r\n",
        f"POST /save HTTP/1.1\r\nHost: {host.name}\r\nOrigin: {host.origin}\r\n{FORM}\r\nContent-Length: {len(form)}\r\n"
        f"Sec-Fetch-Site: same-origin\r\nExpect: 100-continue\r\n\r\n{form}",
        f"HEAD http://{host.name}/assets/careen.css HTTP/1.0\r\nHost: {host.name}\r\nAccept-Encoding: gzip\r\n\r\n",
    ]
    pieces = [b"\r\n", b"\0", b" ", b":", b",", b"%", b"/", b"..", b"\xff", b"-1", b"9" * 30, b"chunked", b"Host: a\r\n", b"\r\n\r\n",
              b"Content-Length: 5\r\n", b"Transfer-Encoding: chunked\r\n", b"[", b"@", b"#", b"?", b"http://", b"\t", b"\n", b"x" * 5000]
    for _ in range(600):
        raw = bytearray(chance.choice(seeds).encode())
        for _ in range(chance.choice((1, 1, 1, 2, 5))):
            at, piece = chance.randrange(len(raw)), chance.choice(pieces)
            raw[at:at + chance.choice((0, 0, 1, len(piece)))] = piece
        with host.connect() as s:
            try:
                s.sendall(raw)
                s.shutdown(socket.SHUT_WR)
            except OSError:
                pass
            answer = serve.Answer(serve.read_all(s, 10))
        expect(answer.raw.count(b"HTTP/1.1 ") <= 2 and answer.status < 506, bytes(raw), answer.raw[:200])
    expect(host.get("/").status == 200, "still there")


def test_11_odd_texts(host):
    for query in ("a=%zz", "a=%", "a=%4", "%00=1", "a=%00", "a=%ff", "a=%c0%ae", "a=%ed%a0%80", "&".join(["a"] * 4097)):
        expect(host.get("/echo?" + query).status in (400, 0), query[:20])
        if len(query) < 100:
            expect(host.post("/echo", query).status == 400, "form", query)
    expect("query a b=c&d\nquery e=\nquery =f\n" in host.get("/echo?a+b=c%26d&&e&=f").text, host.get("/echo?a+b=c%26d&&e&=f").text)


def test_12_ranges(host):
    answer = host.get("/assets/careen.css", "Range: bytes=" + ",".join(f"{i}-{i}" for i in range(1000)))
    whole = host.get("/assets/careen.css")
    expect(answer.status == 200 and answer.body == whole.body and len(whole.body) > 500, answer.status)
    expect(host.get("/", "Range: bytes=0-1").status == 200)


def test_13_paths(host):
    for path in ("/../etc/passwd", "/%2e%2e/etc/passwd", "/..%2fetc/passwd", "/%2e%2e%2fetc%2fpasswd", "//etc/passwd", "/a//b",
                 "/\\etc", "/%5cetc", "/echo%2f", "/%2fecho", "/assets/../echo/../../x", "/assets/..%2f..%2fetc%2fpasswd",
                 "/assets/%2e%2e/%2e%2e/etc/passwd", "/assets//etc/passwd", "/assets/", "/assets", "/assets/vendor/htmx.min.js",
                 "/%c0%ae%c0%ae/etc/passwd", "/%e0%80%ae", "/%f0%82%82%ac", "/%00", "/echo%00", "/echo%0a", "/echo%7f", "/%zz", "/%",
                 "/echo/", "/" + "a" * 2000, "/echo;a=1", "/ECHO", "echo", ""):
        answer = host.get(path)
        expect(answer.status in (400, 404), path, answer.status)
        expect(b"root:" not in answer.raw, path)
    expect("path=/echo\n" in host.get("/%65cho").text, "decoded once")
    expect(host.get("/%2565cho").status == 404, "and no more")


def test_16_headers_on_every_answer(host):
    said = f"Origin: {host.origin}"
    asked = {
        "page": host.get("/"), "missing": host.get("/none"), "asset": host.get("/assets/careen.js"),
        "no asset": host.get("/assets/x"), "known": host.get("/assets/careen.js", "If-None-Match: *"),
        "bad path": host.get("//a"), "bad host": host.get("/", host="evil.example"), "bad method": host.ask("PUT", "/"),
        "cut": host.ask("POST", "/save", said, FORM, "Content-Length: 99999999"), "no token": host.post("/save", "a=1", token=None),
        "see": host.get("/see?to=/echo"), "no answer": host.get("/nothing"), "libsoup's own": host.raw(b"GET\r\n\r\n"),
    }
    for name, answer in asked.items():
        for header, value in STRICT.items():
            expect(answer.headers.get(header) == [value], name, answer.status, header, answer.headers.get(header))
        cache = ["no-cache"] if name in ("asset", "known") else ["no-store"]
        expect(answer.headers.get("cache-control") == cache, name, answer.headers.get("cache-control"))
        expect("server" not in answer.headers and "access-control-allow-origin" not in answer.headers, name)
    expect(asked["known"].status == 304 and asked["no answer"].status == 500 and asked["cut"].status == 413)
    for name in ("bad path", "cut", "no token"):
        expect(asked[name].header("HX-Reswap") == "none", name, "never in place of the page")


def test_16_nothing_breaks_out_of_a_header(host):
    answer = host.get("/header?text=a%0d%0aX-Evil:%201%0d%0a%0d%0abody%c3%a4")
    expect("x-evil" not in answer.headers and answer.header("X-Said") == "a__X-Evil: 1____body__", answer.raw)
    answer = host.get("/see?to=/a%20b%0d%0aX-Evil:1?c=%c3%a4%25")
    expect("x-evil" not in answer.headers and answer.header("Location") == "/a%20b%0D%0AX-Evil:1?c=%C3%A4%", answer.raw)
    answer = host.get("/who?name=J%c3%b6rg%3b%20Path=/x%0d%0a")
    cookie = answer.header("Set-Cookie").split(";")
    expect(cookie[0] == "careen-who=J%C3%B6rg%3B%20Path%3D%2Fx%0D%0A" and "x-evil" not in answer.headers, answer.raw)


def test_17_what_a_page_is_told(host):
    text = host.get("/echo", f"Referer: {host.origin}/afloat?stage=now#x", "Cookie: a=b; careen-who=J%C3%B6rg", "HX-Request: true",
                    'If-None-Match: "8f3a-17", "x"').text
    for line in ("post=0", "path=/echo", "came_from=/afloat?stage=now", "who=Jörg", "htmx=1", "seen=8f3a-17"):
        expect(line + "\n" in text, line, text)
    for header in ("Referer: http://evil.example/a", f"Referer: {host.origin}.evil.example/", f"Referer: {host.origin}//evil.example/",
                   f"Referer: {host.origin}/\\evil", f"Referer: {host.origin}", "Referer: /a"):
        expect("came_from=-\n" in host.get("/echo", header).text, header)
    expect("came_from=/b\n" in host.get("/echo", f"Referer: {host.origin}/a", f"HX-Current-URL: {host.origin}/b").text)
    expect("htmx=0\n" in host.get("/echo", "HX-Request: true", "HX-Request-Type: full").text)
    for name in ("a%0ab", "%ff", "%zz", "x" * 81, ""):
        expect("who=-\n" in host.get("/echo", f"Cookie: careen-who={name}").text, name)
    text = host.post("/echo", "a=1&b=%E2%82%AC&a=2").text
    expect("post=1\n" in text and "form a=1\nform b=€\nform a=2\n" in text, text)


def test_17_assets(host):
    for name, kind in (("careen.css", "text/css"), ("careen.js", "text/javascript"), ("htmx.min.js", "text/javascript"),
                       ("hx-sse.min.js", "text/javascript"), ("picture.js", "text/javascript")):
        answer = host.get("/assets/" + name)
        expect(answer.status == 200 and answer.header("Content-Type").startswith(kind) and len(answer.body) > 100, name)
        again = host.get("/assets/" + name, f'If-None-Match: "x", {answer.header("ETag")}')
        expect(again.status == 304 and again.body == b"", name, again.status)
    source = pathlib.Path(sys.argv[2], "web", "vendor", "htmx.min.js").read_bytes()
    expect(host.get("/assets/htmx.min.js").body == source, "as published")


def test_17_qr_code(host):
    text = host.get("/qr").text
    lines = [line for line in text.split("\n") if line.startswith("\x1b[30;107m")]
    width = len(lines[0]) - len("\x1b[30;107m\x1b[0m")
    expect(width >= 21 + 8 and (width - 8 - 17) % 4 == 0, "a QR code has 17 + 4 n modules and a quiet zone of 4", width)
    expect(len(lines) == (width + 1) // 2 and lines[0].strip("\x1b[30;107m ") == "", len(lines))
    expect(f'viewBox="0 0 {width} {width}"' in text and "style" not in text, text[-300:])


if __name__ == "__main__":
    serve.main(sys.modules[__name__], Host())
