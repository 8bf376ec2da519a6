// Checks the types, then runs the tests under Node.js.
import { build } from "esbuild";
import { spawnSync } from "node:child_process";
import { rmSync } from "node:fs";

const out = "node_modules/.tests";
rmSync(out, { recursive: true, force: true });
const types = spawnSync("node_modules/.bin/tsc", ["--noEmit"], { stdio: "inherit" });
await build({ entryPoints: ["tests/picture.test.ts"], outdir: out, bundle: true, platform: "node", format: "esm", outExtension: { ".js": ".mjs" }, logLevel: "warning" });
const tests = spawnSync(process.execPath, ["--test", "--test-reporter=spec", `${out}/picture.test.mjs`], { stdio: "inherit" });
process.exit(types.status || tests.status || 0);
