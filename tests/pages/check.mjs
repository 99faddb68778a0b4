// Checks written pages: HTML by html-validate, accessibility by axe-core in a headless Chromium, nothing
// fetched, nothing run, nothing on the console, and printable on A4 and Letter without a cut-off page.
//     node check.mjs FOLDER [CHROMIUM]
import fs from "node:fs";
import path from "node:path";
import { HtmlValidate } from "html-validate";
import { chromium } from "playwright-core";

const folder = path.resolve(process.argv[2]);
const browser_path = process.argv[3] ?? "/usr/bin/chromium";
const axe_source = fs.readFileSync(new URL("node_modules/axe-core/axe.min.js", import.meta.url), "utf8");
const pages = fs.readdirSync(folder).filter((name) => name.endsWith(".html")).sort();
if (pages.length === 0) {
  console.error(`check: no pages in ${folder}`);
  process.exit(1);
}

const problems = [];
const validator = new HtmlValidate({
  extends: ["html-validate:standard", "html-validate:a11y"],
  rules: {
    // Inside SVG elements may close themselves.
    "no-self-closing": "off",
    "void-style": "off",
    // The content security policy forbids it.
    "no-inline-style": "error",
    // A title holds an id, however long.
    "long-title": "off",
  },
});

async function validate(name) {
  const report = await validator.validateFile(path.join(folder, name));
  for (const result of report.results) {
    for (const m of result.messages) {
      problems.push(`${name}:${m.line}:${m.column}: ${m.ruleId}: ${m.message}`);
    }
  }
}

const browser = await chromium.launch({
  executablePath: browser_path,
  args: ["--no-sandbox", "--disable-gpu"],
});

async function open(name, options) {
  const context = await browser.newContext({ viewport: { width: 1200, height: 900 }, ...options });
  const page = await context.newPage();
  const url = `file://${path.join(folder, name)}`;
  page.on("console", (m) => problems.push(`${name}: console: ${m.text()}`));
  page.on("pageerror", (e) => problems.push(`${name}: error: ${e.message}`));
  page.on("dialog", async (d) => {
    problems.push(`${name}: a script ran: ${d.message()}`);
    await d.dismiss();
  });
  page.on("request", (r) => {
    if (r.url() !== url) {
      problems.push(`${name}: fetched ${r.url().slice(0, 120)}`);
    }
  });
  await page.goto(url, { waitUntil: "load" });
  return { context, page };
}

async function look(name) {
  const { context, page } = await open(name, {});
  const scripts = await page.evaluate(() => document.scripts.length + document.images.length);
  if (scripts !== 0) {
    problems.push(`${name}: ${scripts} scripts or images`);
  }
  for (const width of [1200, 420]) {
    await page.setViewportSize({ width, height: 900 });
    const over = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    if (over > 1) {
      problems.push(`${name}: ${over} px wider than a window of ${width} px`);
    }
  }
  for (const format of ["A4", "Letter"]) {
    const pdf = await page.pdf({ format, printBackground: true });
    if (pdf.length < 10000) {
      problems.push(`${name}: nothing printed on ${format}`);
    }
  }
  await context.close();
}

async function hear(name) {
  const { context, page } = await open(name, { bypassCSP: true });
  await page.addScriptTag({ content: axe_source });
  const result = await page.evaluate(() =>
    globalThis.axe.run({ runOnly: ["wcag2a", "wcag2aa", "wcag21aa", "best-practice"] }),
  );
  for (const v of result.violations) {
    problems.push(`${name}: axe: ${v.id} (${v.nodes.length}): ${v.nodes[0].html.slice(0, 160)}`);
  }
  if (result.passes.length < 10) {
    problems.push(`${name}: axe passed only ${result.passes.length} rules`);
  }
  await context.close();
}

for (const name of pages) {
  await validate(name);
  await look(name);
  await hear(name);
}
await browser.close();
for (const p of problems) {
  console.error(p);
}
console.log(`${pages.length} pages, ${problems.length} problems`);
process.exit(problems.length === 0 ? 0 : 1);
