// Checks a published map page in a headless Chromium, as files and served: nothing on the console, nothing fetched
// from elsewhere, counts of filters and search as SQL has them, keyboard, addresses, paper, no WebGL, axe, HTML.
//     node map.mjs FOLDER ASSESSED.gpkg ADDRESS
// ADDRESS is that of `linewood serve FOLDER`.
import fs from "node:fs";
import path from "node:path";
import { HtmlValidate } from "html-validate";
import { Site, close, figures, number, settle, tick } from "./site.mjs";

const site = await new Site(process.argv[2], process.argv[3], process.argv[4]).start();
const { folder } = site;
const axe_source = fs.readFileSync(new URL("node_modules/axe-core/axe.min.js", import.meta.url), "utf8");
const expect = site.expect.bind(site);
const sql = site.sql.bind(site);
const count_where = site.count_where.bind(site);
const open = site.open.bind(site);

async function expect_count(page, what, condition) {
  const wanted = count_where(condition);
  const got = await figures(page);
  expect(`${what}, line`, got.line, wanted);
  expect(`${what}, table`, got.rows, wanted);
  for (const [verdict, , filtered] of got.by.filter((l) => l[0] !== "All")) {
    expect(`${what}, ${verdict}`, number(filtered), count_where(`(${condition}) AND verdict = '${verdict.toLowerCase()}'`));
  }
}

async function filters(place) {
  const page = await open(place);
  await expect_count(page, "no filter", "1");
  await tick(page, "Verdict", "Serviceable", false);
  await tick(page, "Verdict", "Unassessed", false);
  await expect_count(page, "verdict", "verdict NOT IN ('serviceable', 'unassessed')");
  await tick(page, "Urgency", "Routine", false);
  await expect_count(
    page,
    "verdict and urgency",
    "verdict NOT IN ('serviceable', 'unassessed') AND ifnull(urgency, '') <> 'routine'",
  );
  await page.click("#clear-filters");
  const circuit = sql("SELECT circuit FROM poles WHERE circuit <> '' GROUP BY 1 ORDER BY count(*) DESC LIMIT 1");
  await tick(page, "Circuit", circuit, false);
  await expect_count(page, "circuit", `ifnull(circuit, '') <> '${circuit}'`);
  await page.click("#clear-filters");
  const strength = page.locator("#filter-form fieldset", { hasText: "Remaining strength" });
  await strength.getByLabel("from").fill("20");
  await strength.getByLabel("to").fill("64");
  await strength.getByLabel("also without").setChecked(false);
  await expect_count(page, "strength", "remaining_pct BETWEEN 20 AND 64");
  const address = page.url();
  await page.click("#clear-filters");
  const year = page.locator("#filter-form fieldset", { hasText: "Year of inspection" });
  await year.getByLabel("to").fill("2025");
  await year.getByLabel("to").press("Tab");
  const day = sql("SELECT value FROM run WHERE item = 'job_today'");
  const asked = `inspected_on IS NULL OR substr(inspected_on, 1, 4) <= '2025'`;
  await expect_count(page, "year", `${asked} OR inspected_on > '${day}'`);
  expect("the last year offered", await year.getByLabel("to").getAttribute("max"), sql(
    `SELECT max(substr(inspected_on, 1, 4)) FROM poles WHERE inspected_on <= '${day}'`,
  ));
  await year.getByLabel("also dated after").setChecked(false);
  await expect_count(page, "year, none of later", asked);
  await close(page);
  const again = await open(place, { hash: new URL(address).hash });
  await expect_count(again, "strength by address", "remaining_pct BETWEEN 20 AND 64");
  await close(again);
}

async function search(place) {
  const page = await open(place);
  const like = sql("SELECT trim(substr(pole_id, 1, 5)) FROM poles WHERE length(pole_id) > 5 ORDER BY fid DESC LIMIT 1");
  await page.fill("#search-id", like);
  await page.locator("#search-said:not(:empty)").waitFor();
  const wanted = count_where(`instr(lower(pole_id), lower('${like}')) > 0`);
  expect("search", number((await page.textContent("#search-said")).split(" ")[0]), wanted);
  const id = sql("SELECT pole_id FROM poles WHERE verdict = 'replace' ORDER BY fid LIMIT 1");
  await page.fill("#search-id", id);
  await page.press("#search-id", "Enter");
  await page.waitForSelector("#record:not([hidden])");
  expect("record of the pole found", await page.textContent("#record h2"), `Pole ${id}`);
  const fields = sql(`SELECT verdict || '|' || ifnull(circuit, '') FROM poles WHERE pole_id = '${id}'`).split("|");
  const text = await page.textContent("#record");
  expect("its circuit is told", text.includes(fields[1]), true);
  const [figure] = await page.$$eval("#record img", (all) => all.map((i) => i.complete && i.naturalWidth > 0));
  expect("its drawing is shown", figure, true);
  await settle(page);
  const at = page.url();
  expect("its name is in the address", new URLSearchParams(new URL(at).hash.slice(1)).get("pole"), id);
  await close(page);
  const again = await open(place, { hash: new URL(at).hash });
  expect("selected by address", await again.textContent("#record h2"), `Pole ${id}`);
  await settle(again);
  expect("the address comes back", new URL(again.url()).hash, new URL(at).hash);
  await close(again);
}

/** All by keys: sort, next page, select, close, a filter. */
async function keys(place, init) {
  const page = await open(place, { init });
  await page.keyboard.press("Tab");
  expect("the first stop skips to the table", await page.evaluate(() => document.activeElement.className), "skip");
  await page.keyboard.press("Enter");
  for (let i = 0; i < 40; i += 1) {
    await page.keyboard.press("Tab");
    if ((await page.evaluate(() => document.activeElement.dataset.column)) === "pole_id") {
      break;
    }
  }
  await page.keyboard.press("Enter");
  expect("sorted by id", await page.getAttribute("#table thead th:first-child", "aria-sort"), "ascending");
  for (let i = 0; i < 12; i += 1) {
    await page.keyboard.press("Tab");
    if (await page.evaluate(() => document.activeElement.dataset.row !== undefined)) {
      break;
    }
  }
  const id = await page.evaluate(() => document.activeElement.textContent);
  await page.keyboard.press("Enter");
  expect("selected by keys", await page.textContent("#record h2"), `Pole ${id}`);
  expect("the focus is in the record", await page.evaluate(() => document.activeElement.id), "record");
  await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  expect("closed by keys", await page.isHidden("#record"), true);
  expect("the focus comes back", await page.evaluate(() => document.activeElement.textContent), id);
  await page.focus("#page-next");
  await page.keyboard.press("Enter");
  const status = await page.textContent("#pager [role=status]");
  expect("the next page", status.startsWith("Rows 26 to 50 of "), true);
  await close(page);
}

/** Clicks on a pole select it; where several stand in one place there is a choice. */
async function clicks(place) {
  const page = await open(place);
  const spots = await page.evaluate(() => {
    const { poles } = window.LINEWOOD_POLES ? { poles: window.LINEWOOD_POLES } : {};
    const rows = poles.lon.map((x, i) => [x, poles.lat[i], i]).filter((s) => s[0] !== null);
    const seen = new Map();
    let twin = null;
    for (const [x, y, i] of rows) {
      const key = `${x},${y}`;
      if (seen.has(key)) {
        twin = [x, y];
      }
      seen.set(key, i);
    }
    return { single: rows[0], twin };
  });
  const click = async ([lon, lat]) => {
    const point = await page.evaluate(
      async ([x, y]) => {
        const { map } = window.Linewood.map;
        map.jumpTo({ center: [x, y], zoom: 19 });
        await new Promise((resolve) => map.once("idle", resolve));
        const box = map.getContainer().getBoundingClientRect();
        const at = map.project([x, y]);
        return [box.left + at.x, box.top + at.y];
      },
      [lon, lat],
    );
    await page.mouse.click(...point);
    await settle(page);
  };
  await click(spots.single);
  expect("a click selects", await page.isVisible("#record"), true);
  if (spots.twin !== null) {
    await click(spots.twin);
    const choices = page.locator(".maplibregl-popup .choice button");
    expect("poles of one place to choose from", (await choices.count()) > 1, true);
    await choices.nth(1).click();
    expect("one is chosen", await page.locator(".maplibregl-popup").count(), 0);
  }
  await close(page);
}

/** Each layer can be switched on, and is drawn. */
async function layers(place) {
  const page = await open(place);
  const names = await page.evaluate(() => [
    ...window.LINEWOOD_SITE.layers.map((l) => l.name),
    ...window.LINEWOOD_SITE.backgrounds.map((b) => b.name),
  ]);
  for (const name of names) {
    await page.setChecked(`#layer-form input[name="${name}"]`, true);
  }
  await page.waitForTimeout(1500);
  // A style may draw only from some scale on: those layers are looked at from nearer.
  const missing = await page.evaluate(async (wanted) => {
    const map = window.Linewood.map.map;
    const nothing = (name) => {
      const features = ((window.LINEWOOD_LAYERS || {})[name] || { features: [] }).features;
      const ids = window.Linewood.map.layersOf(name);
      return features.length > 0 && map.queryRenderedFeatures({ layers: ids }).length === 0;
    };
    const far = [];
    for (const name of wanted.filter(nothing)) {
      const nearest = Math.max(...window.Linewood.map.layersOf(name).map((id) => map.getLayer(id).minzoom || 0));
      const placed = window.LINEWOOD_LAYERS[name].features.find((f) => f.geometry && f.geometry.type === "Point");
      if (nearest > map.getZoom() && placed) {
        map.jumpTo({ center: placed.geometry.coordinates, zoom: nearest + 1 });
        await map.once("idle");
      }
      if (nothing(name)) {
        far.push(name);
      }
    }
    return far;
  }, names);
  expect("layers that draw nothing", missing, []);
  expect("no trouble is told", await page.isHidden("#trouble"), true);
  await close(page);
}

const no_webgl = () => {
  const own = HTMLCanvasElement.prototype.getContext;
  HTMLCanvasElement.prototype.getContext = function (kind, ...rest) {
    return /webgl/.test(kind) ? null : own.call(this, kind, ...rest);
  };
};

async function without_map() {
  const page = await open("file", { init: no_webgl });
  expect("told that there is no map", (await page.textContent("#no-map")).includes("WebGL"), true);
  await expect_count(page, "without a map", "1");
  await close(page);
  await keys("file", no_webgl);
}

async function hostile_addresses() {
  for (const hash of [
    "#verdict=<img src=x onerror=alert(1)>&pole=javascript:alert(99)",
    "#at=NaN_1e999_-5&layers=__proto__,constructor&strength=9_1&year=%00",
    "#%E0%A4%A=1&circuit=%E0%A4%A&nth=-1&colour=constructor",
    `#pole=${"x".repeat(20000)}&verdict=${",".repeat(5000)}`,
  ]) {
    const page = await open("file", { hash });
    expect(`nothing selected by ${hash.slice(0, 40)}`, await page.isHidden("#record"), true);
    await close(page);
  }
}

async function paper() {
  const page = await open("file");
  for (const format of ["A4", "Letter"]) {
    const pdf = await page.pdf({ format, landscape: true, printBackground: true });
    const pages = pdf.toString("latin1").match(/\/Type\s*\/Page[^s]/g) ?? [];
    expect(`sheets of ${format}`, pages.length, 1);
    expect(`a map on ${format}`, pdf.length > 20000, true);
  }
  await close(page);
}

async function hear() {
  for (const width of [375, 1600]) {
    const page = await open("file", { width, bypassCSP: true });
    await page.locator("#table tbody button").first().click();
    await settle(page);
    const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(`too wide for ${width} px`, over > 1, false);
    await page.addScriptTag({ content: axe_source });
    const result = await page.evaluate(() =>
      globalThis.axe.run({ preload: false, runOnly: ["wcag2a", "wcag2aa", "wcag21aa", "best-practice"] }),
    );
    for (const v of result.violations) {
      site.problems.push(`${width} px: axe: ${v.id} (${v.nodes.length}): ${v.nodes[0].html.slice(0, 160)}`);
    }
    expect(`rules of axe at ${width} px`, result.passes.length > 20, true);
    await close(page);
  }
}

async function validate() {
  const validator = new HtmlValidate({
    extends: ["html-validate:standard", "html-validate:a11y"],
    rules: { "long-title": "off", "no-inline-style": "off", "require-sri": "off" },
  });
  const report = await validator.validateFile(path.join(folder, "index.html"));
  for (const m of report.results.flatMap((r) => r.messages)) {
    site.problems.push(`index.html:${m.line}:${m.column}: ${m.ruleId}: ${m.message}`);
  }
}

await validate();
await filters("file");
await filters("served");
await search("file");
await search("served");
await layers("served");
await clicks("file");
await keys("served", null);
await without_map();
await hostile_addresses();
await paper();
await hear();
await site.finish("map page");
