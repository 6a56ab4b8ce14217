// What a phone keeps until the program has acknowledged it: kept.js by itself, without a browser.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

const text = readFileSync(new URL("../../src/web/assets/kept.js", import.meta.url), "utf8");
let copies = 0;

/** The module as a page has it that has just been opened; `answer` is what the program says to a message, `store` what the browser keeps. */
async function opened(answer, store) {
  const asked = [];
  globalThis.localStorage = store;
  // Nothing is sent again by itself.
  globalThis.setTimeout = () => 0;
  globalThis.fetch = async (path, { body }) => {
    asked.push({ path, entries: JSON.parse(body) });
    return answer(JSON.parse(body));
  };
  // A module of its own each time.
  const kept = await import(`data:text/javascript,${encodeURIComponent(`${text}\n// ${(copies += 1)}`)}`);
  return { ...kept, asked };
}
const settled = () => new Promise((resolve) => setImmediate(resolve));
const hours = (value) => ({ kind: "hours", what: "other", value, typed: String(value) });
const values = (kept, boat) => kept.waiting(boat).map((e) => e.value);

/** A browser that keeps up to so many letters. */
function browser(room) {
  const all = new Map();
  return {
    getItem: (key) => all.get(key) ?? null,
    setItem(key, value) {
      if (value.length > room) throw new Error("no room");
      all.set(key, value);
    },
  };
}
const away = () => {
  throw new TypeError("out of reach");
};
const stores = (entries) => ({ ok: true, status: 200, json: async () => ({ stored: entries.map((e) => e.id), known: [], refused: [] }) });

test("what is put down is kept until it is acknowledged, also by the next page", async () => {
  const store = browser(1e6);
  const first = await opened(away, store);
  first.put("a", hours(1));
  first.put("a", hours(2));
  await settled();
  const second = await opened(stores, store);
  assert.deepEqual(values(second, "a"), [1, 2]);
  await second.send("a");
  assert.deepEqual(values(second, "a"), []);
  assert.deepEqual(second.asked[0].entries.map((e) => e.value), [1, 2]);
  assert.equal(second.asked[0].path, "/boat/entries?record=a");
});

test("a browser that keeps nothing, or has no room, loses nothing while its page is open", async () => {
  for (const room of [0, 400]) {
    let there = away;
    const kept = await opened((entries) => there(entries), browser(room));
    let told = null;
    kept.listen({ told: (news) => (told = news), stored() {} });
    for (const n of [1, 2, 3, 4]) kept.put("a", hours(n));
    await settled();
    assert.deepEqual(values(kept, "a"), [1, 2, 3, 4], `room for ${room}`);
    assert.equal(told.waiting, 4);
    there = (entries) => stores(entries.slice(0, 2));
    await kept.send("a");
    assert.deepEqual(values(kept, "a"), [3, 4], `room for ${room}, two acknowledged`);
  }
});

test("what was put down at another boat waits until she is open again", async () => {
  let open = "b";
  let kept = null;
  const answer = (entries) => (kept.asked.at(-1).path.endsWith(`=${open}`) ? stores(entries) : { ok: false, status: 412, text: async () => "another boat" });
  kept = await opened(answer, browser(1e6));
  let looked = 0;
  kept.listen({ told() {}, stored: () => (looked += 1) });
  kept.put("a", hours(1));
  await settled();
  assert.deepEqual([values(kept, "a"), looked], [[1], 1]);
  kept.put("b", hours(2));
  await settled();
  assert.deepEqual([values(kept, "a"), values(kept, "b")], [[1], []]);
  open = "a";
  await kept.send("a");
  assert.deepEqual(values(kept, "a"), []);
});
