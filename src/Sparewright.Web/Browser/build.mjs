// Bundles what runs in the browser into ../wwwroot/browser and ../wwwroot/fonts, with the licences of all that goes along.
import { build } from "esbuild";
import { cp, mkdir, readFile, rm, writeFile } from "node:fs/promises";

const browser = "../wwwroot/browser", fonts = "../wwwroot/fonts";
await rm(browser, { recursive: true, force: true });
await rm(fonts, { recursive: true, force: true });
await mkdir(browser, { recursive: true });
await mkdir(fonts, { recursive: true });

await build({
  entryPoints: { "part-view": "src/part-view.ts" }, outdir: browser,
  bundle: true, format: "esm", target: "es2022", minify: true, legalComments: "none", logLevel: "warning",
});

const face = "node_modules/@fontsource-variable/source-sans-3";
for (const subset of ["latin", "latin-ext", "greek", "cyrillic"])
  await cp(`${face}/files/source-sans-3-${subset}-wght-normal.woff2`, `${fonts}/source-sans-3-${subset}.woff2`);
await cp("fonts.css", `${fonts}/fonts.css`);

const shipped = [["three", "node_modules/three"], ["three-mesh-bvh", "node_modules/three-mesh-bvh"], ["Source Sans 3 (@fontsource-variable/source-sans-3)", face]];
const notices = await Promise.all(shipped.map(async ([name, folder]) => {
  const { version, license } = JSON.parse(await readFile(`${folder}/package.json`, "utf8"));
  return `${name} ${version} (${license})\n\n${(await readFile(`${folder}/LICENSE`, "utf8")).trim()}\n`;
}));
await writeFile(`${browser}/licences.txt`, notices.join("\n----\n\n"));
