// A published site opened in a headless Chromium, as files and served, watched for anything on the console and anything
// fetched from elsewhere; and SQL on the dataset it was published from.
import { execFileSync } from "node:child_process";
import path from "node:path";
import { chromium } from "playwright-core";

const BROWSER = process.env.CHROMIUM ?? "/usr/bin/chromium";

export class Site {
  problems = [];
  checks = 0;

  /**
   * @param {string} folder of the site
   * @param {string} dataset that was published, a GeoPackage
   * @param {string} address at which `linewood serve` has the folder
   */
  constructor(folder, dataset, address) {
    this.folder = path.resolve(folder);
    this.dataset = path.resolve(dataset);
    this.address = address.replace(/\/$/, "");
  }

  async start() {
    this.browser = await chromium.launch({
      executablePath: BROWSER,
      args: [
        "--no-sandbox",
        "--use-gl=angle",
        "--use-angle=swiftshader",
        "--enable-unsafe-swiftshader",
        "--ignore-gpu-blocklist",
      ],
    });
    return this;
  }

  expect(what, got, wanted) {
    this.checks += 1;
    if (JSON.stringify(got) !== JSON.stringify(wanted)) {
      this.problems.push(`${what}: ${JSON.stringify(got)} instead of ${JSON.stringify(wanted)}`);
    }
  }

  sql(query) {
    return execFileSync("sqlite3", ["-readonly", this.dataset, query], { encoding: "utf8" }).trim();
  }

  count_where(condition) {
    return Number(this.sql(`SELECT count(*) FROM poles WHERE ${condition}`));
  }

  url(place, file) {
    return place === "file" ? `file://${this.folder}/${file}` : `${this.address}/${file}`;
  }

  /** A page that tells of whatever it says or fetches. */
  async blank(place, { width = 1600, height = 1000, init = null, ...options } = {}) {
    const context = await this.browser.newContext({ viewport: { width, height }, ...options });
    const page = await context.newPage();
    const origin = place === "file" ? `file://${this.folder}/` : `${this.address}/`;
    const where = () => `${place} ${page.url().split("/").pop().slice(0, 60)}`;
    page.on("console", (m) => {
      // A drawing that is opened by itself names no icon: the browser asks for one.
      if (!m.location().url.endsWith("/favicon.ico")) {
        this.problems.push(`${where()}: console: ${m.text().slice(0, 300)}`);
      }
    });
    page.on("pageerror", (e) => this.problems.push(`${where()}: error: ${e.message}`));
    page.on("dialog", async (d) => {
      this.problems.push(`${where()}: a script ran: ${d.message()}`);
      await d.dismiss();
    });
    page.on("request", (r) => {
      if (!/^(data|blob):/.test(r.url()) && !r.url().startsWith(origin)) {
        this.problems.push(`${where()}: fetched ${r.url().slice(0, 120)}`);
      }
    });
    if (init !== null) {
      await page.addInitScript(init);
    }
    return page;
  }

  /** The map page, ready. */
  async open(place, { hash = "", ...options } = {}) {
    const page = await this.blank(place, options);
    await page.goto(this.url(place, "index.html") + hash);
    await page.waitForSelector("html.ready", { timeout: 60000 });
    return page;
  }

  /** Tells what is wrong and ends the process. */
  async finish(name) {
    await this.browser.close();
    for (const p of this.problems) {
      console.error(p);
    }
    console.log(`${name}: ${this.checks} checks, ${this.problems.length} problems`);
    process.exit(this.problems.length === 0 && this.checks > 0 ? 0 : 1);
  }
}

export const close = (page) => page.context().close();
export const settle = (page) => page.waitForTimeout(350);
export const number = (text) => Number(text.replace(/,/g, ""));

/** The page's own figures: of the line below the map, of the table below that, of the counts by verdict. */
export async function figures(page) {
  await settle(page);
  const line = await page.textContent("#shown");
  const rows = await page.textContent("#pager [role=status]");
  const by = await page.$$eval("#counts tbody tr", (lines) =>
    lines.map((l) => [...l.children].map((c) => c.textContent)),
  );
  return { line: number(line.split(" ")[0]), rows: number(rows.split(" of ")[1]), by };
}

/** Ticks or unticks the box with this label in the fieldset of this title. */
export async function tick(page, title, label, wanted) {
  const box = page.locator("#filter-form fieldset", { hasText: title }).getByLabel(label, { exact: true });
  await box.setChecked(wanted);
}
