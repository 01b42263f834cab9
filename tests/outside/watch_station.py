#!/usr/bin/env python3
"""An independent display: watches one topic with other people's libraries and believes nothing.

Speaks RFC 6455 through `websockets` and checks every frame with `jsonschema` against the JSON Schema
(2020-12) that the server serves, so that an error shared by our server and our own displays is seen. It sends
`hello` and nothing else.

    watch_station.py --url ws://127.0.0.1:PORT/socket --schema-url http://127.0.0.1:PORT/schema/to-display.json \
        --topic station/bench-1 --until finished --out views.jsonl

Every frame goes to --out as one JSON line. Standard output says "watching" at the first welcome. On success
its last line is a JSON summary and the exit code is 0; otherwise the reason is on standard error and the exit code is 1.
"""

import argparse
import json
import sys
import time
import urllib.request
import uuid

from jsonschema import Draft202012Validator
from websockets.exceptions import ConnectionClosed, InvalidHandshake
from websockets.sync.client import connect

PROTOCOL = 2
# The server's own bound for a frame to a display: a longer one ends the connection here with 1009.
MAX_FRAME_BYTES = 256 * 1024
MAX_SCHEMA_BYTES = 1024 * 1024
# Loopback connects at once or not at all; a server that is just starting refuses.
CONNECT_SECONDS = 5
RECONNECT_PAUSE_SECONDS = 0.2


class Wrong(Exception):
    """What the server did against the contract, or did not do in time."""


def once(pairs):
    """A JSON object whose names are unique (RFC 8259 section 4 only says they should be)."""
    names = [name for name, _ in pairs]
    if len(set(names)) != len(names):
        raise Wrong(f"a name occurs twice in one object: {names}")
    return dict(pairs)


def no_constant(text):
    raise Wrong(f"{text} is not JSON (RFC 8259 section 6)")


def load_validator(url):
    opener = urllib.request.build_opener(urllib.request.ProxyHandler({}))
    with opener.open(url, timeout=CONNECT_SECONDS) as answer:
        body = answer.read(MAX_SCHEMA_BYTES + 1)
    if len(body) > MAX_SCHEMA_BYTES:
        raise Wrong(f"the schema is longer than {MAX_SCHEMA_BYTES} bytes")
    schema = json.loads(body)
    Draft202012Validator.check_schema(schema)
    if schema.get("$schema") != "https://json-schema.org/draft/2020-12/schema":
        raise Wrong(f"the schema is of another draft: {schema.get('$schema')}")
    return Draft202012Validator(schema, format_checker=Draft202012Validator.FORMAT_CHECKER)


def role_of(topic):
    kind, _, rest = topic.partition("/")
    if kind == "station":
        return {"is": "station", "stations": rest.split(",")}
    if kind == "coach":
        return {"is": "coach", "coach": rest}
    return {"is": kind}


def parts(value):
    """Every object in a JSON value, at any depth."""
    if isinstance(value, dict):
        yield value
    for inner in value.values() if isinstance(value, dict) else value if isinstance(value, list) else ():
        yield from parts(inner)


class Watch:
    """What was seen so far, over all connections."""

    def __init__(self, topic, until, validator, out):
        self.topic, self.until, self.validator, self.out = topic, until, validator, out
        self.frames = self.views = self.connections = 0
        self.epoch = self.revision = None
        self.epochs, self.phases, self.states = set(), set(), set()
        # By station, or by group on other topics: how far its evening got.
        self.progress = {}

    def take(self, text):
        if not isinstance(text, str):
            raise Wrong("a frame is not text")
        frame = json.loads(text, object_pairs_hook=once, parse_constant=no_constant)
        self.out.write(json.dumps(frame, sort_keys=True) + "\n")
        self.out.flush()
        self.frames += 1
        error = next(iter(self.validator.iter_errors(frame)), None)
        if error:
            raise Wrong(f"frame {self.frames} is not as the schema says: {error.json_path}: {error.message[:300]}")
        return frame

    def welcome(self, frame):
        if frame["frame"] != "welcome":
            raise Wrong(f"the first frame is no welcome: {frame}")
        if frame["protocol"] != PROTOCOL:
            raise Wrong(f"the server speaks version {frame['protocol']}, this client {PROTOCOL}")
        if not self.connections:
            # Whoever started this may wait until it does not miss anything.
            print("watching", flush=True)
        self.connections += 1
        self.epoch = frame["epoch"]
        self.epochs.add(self.epoch)

    def view(self, frame):
        if frame["frame"] == "clock":
            return
        if frame["frame"] != "view":
            raise Wrong(f"nobody asked for this: {frame}")
        if frame["topic"] != self.topic:
            raise Wrong(f"a view of {frame['topic']}, watching {self.topic}")
        revision = frame["revision"]
        if revision["epoch"] != self.epoch:
            raise Wrong(f"a view of epoch {revision['epoch']} after a welcome of {self.epoch}")
        now = (revision["sequence"], revision["plan"])
        if self.revision and self.revision[0] == self.epoch and now < self.revision[1]:
            raise Wrong(f"the revision goes back from {self.revision[1]} to {now}")
        self.revision = (self.epoch, now)
        self.views += 1
        self.note(frame["view"])

    def note(self, view):
        for part in parts(view):
            self.phases.update(str(part[key]) for key in ("phase", "after") if isinstance(part.get(key), str))
            if isinstance(part.get("set"), str):
                self.phases.add(part["set"])
        if view["is"] == "station":
            for station in view["stations"]:
                self.states.add(station["state"])
                before = self.progress.get(station["key"], "")
                # Given back after use. Wiping down may be too short to be seen: a view can be skipped.
                given_back = station["state"] == "free" and before not in ("", "free")
                if given_back or (before == "wipe_down" and station["state"] != "wipe_down"):
                    self.progress[station["key"]] = "finished"
                elif before != "finished":
                    self.progress[station["key"]] = station["state"]
        else:
            for group in view["groups"]:
                self.states.add(group["stage"])
                self.progress[group["group"]] = group["stage"]

    def done(self):
        if self.until != "finished":
            return self.views >= self.until
        return bool(self.progress) and all(state == "finished" for state in self.progress.values())

    def summary(self):
        return {
            "connections": self.connections,
            "epochs": len(self.epochs),
            "phases": sorted(self.phases),
            "revision": self.revision[1] if self.revision else None,
            "states": sorted(self.states),
            "validated": self.frames,
            "views": self.views,
        }


def listen(watch, socket, device, deadline):
    """One connection, to the wanted end; a lost connection raises ConnectionClosed."""

    def receive():
        left = deadline - time.monotonic()
        try:
            return watch.take(socket.recv(timeout=max(left, 0)))
        except TimeoutError:
            raise Wrong(f"not {watch.until} in time: {json.dumps(watch.summary())}") from None

    hello = {"frame": "hello", "protocol": PROTOCOL, "device": device, "topic": watch.topic}
    socket.send(json.dumps(hello | {"role": role_of(watch.topic)}))
    watch.welcome(receive())
    while not watch.done():
        watch.view(receive())


def run(arguments):
    deadline = time.monotonic() + arguments.timeout
    device = str(uuid.uuid4())
    validator = load_validator(arguments.schema_url)
    with open(arguments.out, "w", encoding="utf-8") as out:
        watch = Watch(arguments.topic, arguments.until, validator, out)
        lost = None
        while True:
            try:
                # No proxy and no compression: what is on the wire is what the server wrote.
                with connect(
                    arguments.url,
                    open_timeout=CONNECT_SECONDS,
                    max_size=MAX_FRAME_BYTES,
                    compression=None,
                    proxy=None,
                ) as socket:
                    lost = None
                    listen(watch, socket, device, deadline)
                    return watch.summary()
            except (ConnectionClosed, InvalidHandshake, OSError) as error:
                now = time.monotonic()
                lost = lost or now
                if now - lost >= arguments.reconnect or now >= deadline:
                    raise Wrong(f"the connection is lost: {error!r}") from None
                time.sleep(RECONNECT_PAUSE_SECONDS)


def until(text):
    return text if text == "finished" else int(text)


def main():
    parser = argparse.ArgumentParser(description="Watch one topic and check every frame.")
    parser.add_argument("--url", required=True, help="the socket, ws://HOST:PORT/PATH")
    parser.add_argument("--schema-url", required=True, help="the schema of frames to displays")
    parser.add_argument("--topic", required=True, help="station/KEY[,KEY], board or coach/KEY")
    parser.add_argument("--until", required=True, type=until, help="'finished' or a number of views")
    parser.add_argument("--out", required=True, help="where every frame goes, one JSON line each")
    parser.add_argument("--timeout", type=float, default=300, help="seconds for everything (300)")
    parser.add_argument(
        "--reconnect", type=float, default=0, help="seconds to try again after a lost connection (0)"
    )
    arguments = parser.parse_args()
    try:
        print(json.dumps(run(arguments), sort_keys=True))
    except (Wrong, ValueError, OSError) as error:
        print(f"watch_station: {error}", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
