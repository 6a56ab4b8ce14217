// What `strakewise files` writes as glTF, read by the validator of those who made the form. Needs the program (STRAKEWISE, or
// target/release/strakewise).
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import validator from "gltf-validator";

const root = new URL("../../../../", import.meta.url).pathname;
const program = process.env.STRAKEWISE ?? join(root, "target/release/strakewise");

function written(boat) {
  const folder = mkdtempSync(join(tmpdir(), "files-"));
  try {
    execFileSync(program, ["files", join(root, "boats", boat), "--only", "glb", "-o", folder]);
    return new Uint8Array(readFileSync(join(folder, "boat.glb")));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const read = (bytes) => validator.validateBytes(bytes, { maxIssues: 20 });

for (const [boat, strakes] of [["corncrake", 10], ["sandgrouse", 9], ["lapwing", 8]]) {
  test(`${boat} has no error and no warning`, async () => {
    const bytes = written(boat);
    const { issues, info } = await read(bytes);
    assert.deepEqual([issues.numErrors, issues.numWarnings], [0, 0], JSON.stringify(issues.messages, null, 1));
    assert.equal(info.version, "2.0");
    assert.ok(info.drawCallCount >= 2 * strakes && info.totalTriangleCount > 10_000, JSON.stringify(info));
    const length = new DataView(bytes.buffer).getUint32(12, true);
    const { nodes } = JSON.parse(new TextDecoder().decode(bytes.subarray(20, 20 + length)));
    for (let n = 1; n <= strakes; n++) {
      for (const side of ["port", "starboard"]) assert.ok(nodes.some((node) => node.name === `strake ${n} ${side}`), `strake ${n} ${side}`);
    }
  });
}

test("the validator finds what is wrong", async () => {
  const bytes = written("lapwing");
  // The first corner's first number is no number.
  const json = new DataView(bytes.buffer).getUint32(12, true);
  bytes.set([0, 0, 192, 127], 20 + json + 8);
  const { issues } = await read(bytes);
  assert.ok(issues.numErrors > 0);
});
