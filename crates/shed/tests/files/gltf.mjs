// Reads glTF files with the Khronos validator and tells what it found, as JSON on standard output; ends with 1 where it found an
// error or a warning.
//
//     node gltf.mjs boat.glb ...
import { readFile } from "node:fs/promises";
import validator from "gltf-validator";

const found = {};
for (const path of process.argv.slice(2)) {
  const bytes = new Uint8Array(await readFile(path));
  const { issues, info } = await validator.validateBytes(bytes, { maxIssues: 20, uri: path });
  found[path] = { errors: issues.numErrors, warnings: issues.numWarnings, hints: issues.numHints, infos: issues.numInfos,
    messages: issues.messages, triangles: info.totalTriangleCount, draws: info.drawCallCount };
}
console.log(JSON.stringify(found, null, 1));
process.exitCode = Object.values(found).some((f) => f.errors + f.warnings > 0) || !process.argv[2] ? 1 : 0;
