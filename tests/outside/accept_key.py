#!/usr/bin/env python3
"""Checks the opening handshake of a WebSocket server with the example of RFC 6455, section 1.3.

    accept_key.py HOST PORT PATH

Key and answer are the ones printed there, so this computes nothing. Needs no package.
"""

import socket
import sys

KEY = "dGhlIHNhbXBsZSBub25jZQ=="
ACCEPT = "s3pPLMBiTxaQ9kYGzzhZRbK+xOo="
SECONDS = 5  # on loopback an answer comes at once or not at all
MAX_HEAD_BYTES = 16 * 1024


def head(host, port, path):
    request = (
        f"GET {path} HTTP/1.1\r\nHost: {host}:{port}\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n"
        f"Sec-WebSocket-Key: {KEY}\r\nSec-WebSocket-Version: 13\r\n\r\n"
    )
    with socket.create_connection((host, port), timeout=SECONDS) as stream:
        stream.sendall(request.encode("ascii"))
        answer = b""
        while b"\r\n\r\n" not in answer:
            more = stream.recv(4096)
            if not more or len(answer) > MAX_HEAD_BYTES:
                raise ValueError(f"no complete answer: {answer[:200]!r}")
            answer += more
    return answer.split(b"\r\n\r\n", 1)[0].decode("ascii")


def check(text):
    status, *lines = text.split("\r\n")
    if not status.startswith("HTTP/1.1 101"):
        raise ValueError(f"not 101: {status}")
    fields = {name.strip().lower(): value.strip() for name, _, value in (line.partition(":") for line in lines)}
    wanted = {"upgrade": "websocket", "connection": "upgrade"}
    for name, value in wanted.items():
        if fields.get(name, "").lower() != value:
            raise ValueError(f"{name} is {fields.get(name)!r}, must be {value!r} (section 4.1)")
    if fields.get("sec-websocket-accept") != ACCEPT:
        raise ValueError(f"accept is {fields.get('sec-websocket-accept')!r}, must be {ACCEPT!r} (section 1.3)")


def main():
    if len(sys.argv) != 4:
        print(__doc__, file=sys.stderr)
        return 2
    try:
        check(head(sys.argv[1], int(sys.argv[2]), sys.argv[3]))
    except (ValueError, OSError) as error:
        print(f"accept_key: {error}", file=sys.stderr)
        return 1
    print("accept_key: as RFC 6455 section 1.3 says")
    return 0


if __name__ == "__main__":
    sys.exit(main())
