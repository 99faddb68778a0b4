// Checks a site published from poles with hostile ids, notes and circuits: every id stands on the page as it is, in the table,
// the search, the record, the popup and the address; and no page of the folder says or fetches anything.
//     node hostile.mjs FOLDER ASSESSED.gpkg ADDRESS
import fs from "node:fs";
import path from "node:path";
import { Site, close, settle } from "./site.mjs";

const site = await new Site(process.argv[2], process.argv[3], process.argv[4]).start();
const wanted = JSON.parse(
  site.sql("SELECT json_group_array(DISTINCT ifnull(nullif(pole_id, ''), '(no id)')) FROM poles"),
);
const hostile = wanted.filter((id) => /[^A-Za-z0-9 -]/.test(id) || id.length > 200);
const tiled = fs.existsSync(path.join(site.folder, "tiles"));

async function table() {
  const page = await site.open("file");
  await page.locator("#table-tools select").selectOption("500");
  const shown = new Set(await page.$$eval("#table tbody button", (all) => all.map((b) => b.textContent)));
  site.expect("ids that the table lacks", wanted.filter((id) => !shown.has(id)), []);
  for (const width of [375, 1600]) {
    await page.setViewportSize({ width, height: 900 });
    await settle(page);
    const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    site.expect(`too wide for ${width} px`, over > 1, false);
  }
  await close(page);
}

async function each(place) {
  const page = await site.open(place);
  for (const id of hostile) {
    await page.fill("#search-id", id);
    await page.press("#search-id", "Enter");
    await settle(page);
    const hits = await page.$$eval("#search-hits bdi", (all) => all.map((b) => b.textContent));
    site.expect("found by search", hits.includes(id.trim()), true);
    site.expect("its record", await page.textContent("#record h2 bdi"), id.trim());
    const address = new URL(page.url());
    const again = await site.open(place, { hash: address.hash });
    await again.waitForSelector("#record:not([hidden])");
    site.expect("by its address", await again.textContent("#record h2 bdi"), id.trim());
    await close(again);
  }
  await close(page);
}

/** Two poles of one place: the popup names both. */
async function popup(place) {
  const page = await site.open(place);
  const at = await page.evaluate(async () => {
    const { map } = window.Linewood.map;
    const poles = window.LINEWOOD_POLES;
    const row = poles.lon.findIndex((x) => x !== null);
    map.jumpTo({ center: [poles.lon[row], poles.lat[row]], zoom: 13 });
    await new Promise((resolve) => map.once("idle", resolve));
    const box = map.getContainer().getBoundingClientRect();
    const p = map.project([poles.lon[row], poles.lat[row]]);
    return [box.left + p.x, box.top + p.y];
  });
  await page.mouse.click(...at);
  await settle(page);
  const names = await page.$$eval(".maplibregl-popup .choice bdi", (all) => all.map((b) => b.textContent));
  site.expect("poles to choose from", names.length > 1, true);
  site.expect("names of the popup that no pole has", names.filter((n) => !wanted.includes(n)), []);
  await close(page);
}

function pages(folder) {
  return fs.readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const file = path.join(folder, entry.name);
    return entry.isDirectory() ? pages(file) : /\.(html|svg)$/.test(entry.name) ? [file] : [];
  });
}

async function every_page() {
  const page = await site.blank("served");
  const all = pages(site.folder).map((f) => path.relative(site.folder, f));
  site.expect("pages", all.length > 5, true);
  for (const file of all) {
    await page.goto(site.url("served", file.split(path.sep).map(encodeURIComponent).join("/")), {
      waitUntil: "load",
    });
    const text = fs.readFileSync(path.join(site.folder, file), "utf8");
    if (file.endsWith(".html")) {
      site.expect(`${file} has a strict policy`, /Content-Security-Policy/.test(text) && !/unsafe-inline/.test(text), true);
    }
    site.expect(`${file}: handlers in markup`, /<[^>]*\son[a-z]+\s*=\s*"(?![^"]*&lt;)/i.test(text.replace(/"[^"]*"/g, '""')), false);
  }
  await close(page);
}

if (!tiled) {
  await table();
  await each("file");
  await popup("file");
  await every_page();
}
await each("served");
await site.finish(tiled ? "hostile tiles" : "hostile ids");
