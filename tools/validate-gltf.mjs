// Prints the Khronos validator's report on a glTF file as JSON; ends with 1 if it found errors.
// Usage: node tools/validate-gltf.mjs FILE.glb
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';

const require = createRequire(new URL('../.tools/', import.meta.url));
const validator = require('gltf-validator');

const bytes = new Uint8Array(await readFile(process.argv[2]));
const report = await validator.validateBytes(bytes, { maxIssues: 20 });
console.log(JSON.stringify(report.issues, null, 2));
process.exitCode = report.issues.numErrors > 0 ? 1 : 0;
