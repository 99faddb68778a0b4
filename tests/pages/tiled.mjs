// Checks a site with tiles, served by `linewood serve`: counts as SQL has them, filters of all fields, search of poles that the
// table does not hold, poles of one id apart, what is said of poles that are not shown.
//     node tiled.mjs FOLDER ASSESSED.gpkg ADDRESS
import { Site, close, figures, number, settle, tick } from "./site.mjs";

const site = await new Site(process.argv[2], process.argv[3], process.argv[4]).start();
const WIDE = { width: 3200, height: 2600 };
const PLACED = "geom IS NOT NULL";
const day = site.sql("SELECT value FROM run WHERE item = 'job_today'");

/** The map come to rest at a zoom at which tiles have all fields, with every pole in view. */
async function opened() {
  const page = await site.open("served", WIDE);
  await page.evaluate(async () => {
    const { map } = window.Linewood.map;
    map.jumpTo({ zoom: Math.max(12.01, map.getZoom()) });
    await new Promise((resolve) => map.once("idle", resolve));
  });
  return page;
}

async function expect_drawn(page, what, condition) {
  await page.evaluate(() => new Promise((resolve) => {
    const { map } = window.Linewood.map;
    map.once("idle", resolve);
    map.triggerRepaint();
  }));
  const { line, by } = await figures(page);
  site.expect(`${what}, drawn`, line, site.count_where(`(${condition}) AND ${PLACED}`));
  for (const [verdict, all, drawn] of by.filter((l) => l[0] !== "All")) {
    const of = `verdict = '${verdict.toLowerCase()}'`;
    site.expect(`${what}, ${verdict}`, number(drawn), site.count_where(`(${condition}) AND ${PLACED} AND ${of}`));
    site.expect(`${what}, ${verdict} in all`, number(all), site.count_where(of));
  }
}

async function filters() {
  const page = await opened();
  await expect_drawn(page, "no filter", "1");
  await tick(page, "Verdict", "Serviceable", false);
  await tick(page, "Urgency", "Now", false);
  await expect_drawn(page, "verdict and urgency", "verdict <> 'serviceable' AND ifnull(urgency, '') <> 'now'");
  await page.click("#clear-filters");
  const circuits = site.sql("SELECT count(DISTINCT circuit) FROM poles WHERE circuit <> ''");
  const boxes = page.locator("#filter-form fieldset", { hasText: "Circuit" }).locator("bdi");
  site.expect("circuits of all poles", await boxes.count(), Number(circuits));
  const circuit = await boxes.first().textContent();
  await tick(page, "Circuit", circuit, false);
  await expect_drawn(page, "circuit", `ifnull(circuit, '') <> '${circuit}'`);
  await page.click("#clear-filters");
  const strength = page.locator("#filter-form fieldset", { hasText: "Remaining strength" });
  await strength.getByLabel("to").fill("64");
  await strength.getByLabel("also without").setChecked(false);
  await expect_drawn(page, "strength", "remaining_pct <= 64");
  await page.click("#clear-filters");
  const year = page.locator("#filter-form fieldset", { hasText: "Year of inspection" });
  await year.getByLabel("to").fill("2025");
  await year.getByLabel("to").press("Tab");
  const asked = "inspected_on IS NULL OR substr(inspected_on, 1, 4) <= '2025'";
  await expect_drawn(page, "year", `${asked} OR inspected_on > '${day}'`);
  await year.getByLabel("also dated after").setChecked(false);
  await expect_drawn(page, "year, none of later", asked);
  await close(page);
}

/** The table: the worst poles, the worst first, and says of how many. */
async function table() {
  const page = await site.open("served");
  const held = await page.evaluate(() => window.LINEWOOD_POLES.count);
  const all = site.count_where("1");
  site.expect("the page holds some", held < all, true);
  const said = await page.textContent("#table-said");
  site.expect("told of how many", said.includes(`${held} worst of ${all.toLocaleString("en")} poles`), true);
  const urgent = site.count_where("urgency = 'now'");
  const rows = await page.evaluate(() => {
    const { store } = window.Linewood;
    return [...Array(store.count).keys()].map((row) => store.value(row, "urgency"));
  });
  site.expect("the worst first", rows.slice(0, urgent).every((u) => u === "now"), true);
  await close(page);
}

/** A pole that the table does not hold: found, shown with all its fields, in the address. */
async function search() {
  const page = await site.open("served");
  const [id, verdict, strength, circuit] = site
    .sql(
      "SELECT pole_id, verdict, remaining_pct, circuit FROM poles WHERE verdict = 'serviceable' AND geom IS NOT NULL " +
        "AND pole_id <> '' GROUP BY pole_id HAVING count(*) = 1 ORDER BY remaining_pct DESC, fid DESC LIMIT 1",
    )
    .split("|");
  const begin = id.slice(0, -1);
  await page.fill("#search-id", begin.toUpperCase());
  await page.locator("#search-said:not(:empty)").waitFor();
  await settle(page);
  const found = site.count_where(`lower(substr(pole_id, 1, ${begin.length})) = lower('${begin}')`);
  site.expect("found by the beginning", number((await page.textContent("#search-said")).split(" ")[0]), found);
  await page.fill("#search-id", id);
  await page.press("#search-id", "Enter");
  await page.waitForSelector("#record table", { timeout: 20000 });
  site.expect("its id", await page.textContent("#record h2 bdi"), id);
  const record = (await page.textContent("#record")).toLowerCase();
  site.expect("its verdict", record.includes(verdict), true);
  site.expect("its circuit", record.includes(circuit.toLowerCase()), true);
  site.expect("its strength", record.includes(`strength ${Math.round(strength * 100) / 100}`), true);
  await settle(page);
  const { hash } = new URL(page.url());
  await close(page);
  const again = await site.open("served", { hash });
  await again.waitForSelector("#record table", { timeout: 20000 });
  site.expect("selected by its address", await again.textContent("#record h2 bdi"), id);
  await settle(again);
  site.expect("the address comes back", new URL(again.url()).hash, hash);
  await again.fill("#search-id", "there is no such pole");
  await again.press("#search-id", "Enter");
  await settle(again);
  site.expect("none is found", (await again.textContent("#search-said")).startsWith("No pole has"), true);
  await close(again);
}

/** Two poles of one id: each has its own verdict. */
async function twins() {
  const id = site.sql("SELECT pole_id FROM poles WHERE pole_id <> '' GROUP BY pole_id HAVING count(*) > 1 LIMIT 1");
  const wanted = site.sql(`SELECT verdict FROM poles WHERE pole_id = '${id}' ORDER BY fid`).split("\n");
  const page = await site.open("served");
  await page.fill("#search-id", id);
  await page.press("#search-id", "Enter");
  await page.locator("#search-hits button").nth(1).waitFor();
  const told = [];
  for (let i = 0; i < wanted.length; i += 1) {
    await page.locator("#search-hits button").nth(i).click();
    await page.waitForSelector("#record table", { timeout: 20000 });
    told.push((await page.textContent("#record .badges")).toLowerCase());
  }
  site.expect("verdicts of poles of one id", told.map((t, i) => t.startsWith(wanted[i])), wanted.map(() => true));
  await close(page);
}

/** What tiles leave out is said; and that the folder is to be served. */
async function unshown() {
  const page = await site.blank("served");
  await page.route("**/data/site.js", async (route) => {
    const answer = await route.fetch();
    const text = (await answer.text()).replace(/("shown": \{)[^}]*\}/, (_, begin) => {
      const zooms = [...Array(17).keys()].map((z) => `"${z}": [600, 1234]`);
      return `${begin}${zooms.join(",")}}`;
    });
    await route.fulfill({ response: answer, body: text });
  });
  await page.goto(site.url("served", "index.html"));
  await page.waitForSelector("html.ready", { timeout: 60000 });
  await settle(page);
  site.expect("told of those not shown", (await page.textContent("#shown")).includes("600 of 1,234 poles"), true);
  await close(page);
  const file = await site.open("file");
  site.expect("told to serve it", (await file.textContent("#no-map")).includes("linewood serve"), true);
  await file.fill("#search-id", "zzz");
  await file.press("#search-id", "Enter");
  await settle(file);
  site.expect("told what was searched", (await file.textContent("#search-said")).includes("of the table were searched"), true);
  await close(file);
}

await filters();
await table();
await search();
await twins();
await unshown();
await site.finish("tiled page");
