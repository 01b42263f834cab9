// The page's clock gives the figures of `protocol/src/clock.rs`.

import assert from "node:assert/strict";
import { test } from "node:test";

import { Estimator, sampleFromStamps } from "../../../server/src/web/assets/clock.js";

test("offset and delay follow RFC 5905", () => {
  // RFC 5905 section 8. The first row is the verifier's example in its erratum 5020 (rejected in 2022); the
  // others are computed from the formula, the last with true offset 250, 10 up, 40 down.
  for (const [stamps, offset, delay] of [
    [[0, 50, 50, 100], 0, 100],
    [[1000, 1065, 1067, 1032], 50, 30],
    [[1000, 1350, 1352, 1042], 330, 40],
    [[0, 260, 262, 52], 235, 50],
  ]) {
    assert.deepEqual(sampleFromStamps(...stamps), { offset, delay });
  }
});

test("the first sample is taken at once and the smallest delay is believed", () => {
  const clock = new Estimator();
  assert.equal(clock.now(5), null);
  clock.take({ offset: 1000, delay: 80 }, 0);
  assert.equal(clock.now(0), 1000);
  clock.take({ offset: 1020, delay: 10 }, 0);
  clock.take({ offset: 1060, delay: 90 }, 0);
  // 20 ms to catch up at 50 ms a second take 400 ms.
  assert.equal(clock.now(200), 1210);
  assert.equal(clock.now(400), 1420);
  assert.equal(clock.now(4000), 5020);
});

test("a correction backwards is slewed and time never goes back", () => {
  const clock = new Estimator();
  clock.take({ offset: 500, delay: 50 }, 0);
  let last = clock.now(0);
  clock.take({ offset: 100, delay: 1 }, 0);
  for (let own = 1; own < 20_000; own += 1) {
    const now = clock.now(own);
    assert.ok(now >= last, `${now} after ${last}`);
    last = now;
  }
  assert.equal(last, 19_999 + 100);
});

test("what is far off or driven by hand is taken at once", () => {
  const clock = new Estimator();
  clock.take({ offset: 0, delay: 10 }, 0);
  clock.take({ offset: 90_000, delay: 5 }, 0);
  assert.equal(clock.now(0), 90_000);
  clock.set(7, 50);
  assert.equal(clock.now(50), 7);
});

test("an old best leaves the window", () => {
  const clock = new Estimator();
  clock.take({ offset: 0, delay: 1 }, 0);
  for (let n = 1; n <= 32; n += 1) clock.take({ offset: 10, delay: 2 }, n * 2000);
  assert.equal(clock.now(66_000), 66_010);
});

test("an impossible sample is dropped", () => {
  const clock = new Estimator();
  clock.take({ offset: 5, delay: -1 }, 0);
  clock.take({ offset: Number.NaN, delay: 1 }, 0);
  assert.equal(clock.now(0), null);
});

test("a new epoch forgets the samples and goes on from what is shown", () => {
  const clock = new Estimator();
  clock.take({ offset: 1000, delay: 1 }, 0);
  clock.forget();
  assert.equal(clock.now(100), 1100);
  clock.take({ offset: 1010, delay: 40 }, 100);
  assert.equal(clock.now(300), 1310);
});

/** A clock that was asked for ten minutes and drifts by so much. */
function drifting(drift) {
  const clock = new Estimator();
  for (let own = 0; own < 600_000; own += 2000) clock.take({ offset: drift * own, delay: 40 }, own);
  return clock;
}

test("a drift is followed when nothing more is heard", () => {
  for (const drift of [-100e-6, 30e-6, 100e-6]) {
    const clock = drifting(drift);
    assert.ok(Math.abs(clock.drift.rate - drift) < 1e-6, `${drift}: ${clock.drift.rate}`);
    const off = clock.now(1_200_000) - 1_200_000 * (1 + drift);
    assert.ok(Math.abs(off) <= 2, `${drift}: ${off} ms`);
  }
});

test("what a restart of the server does not change is kept", () => {
  const clock = drifting(100e-6);
  clock.forget();
  assert.equal(clock.now(1_200_000), 1_200_119);
});

test("a clock that stood still is believed anew at once", () => {
  const clock = new Estimator();
  clock.take({ offset: 0, delay: 1 }, 0);
  clock.take({ offset: 600_000, delay: 80 }, 1000);
  assert.equal(clock.now(1000), 601_000);
  clock.take({ offset: 600_010, delay: 70 }, 3000);
  assert.equal(clock.now(4000), 604_010);
});
