// Finding a pole by its id: among the rows of the page, or, where poles are tiled, in the folder's sorted index.
(function (lw) {
  "use strict";

  const { store, dom } = lw;
  const MOST = 20;
  let asked = 0;

  /** ASCII letters small, as the index is sorted. */
  function small(text) {
    return text.replace(/[A-Z]/g, (c) => c.toLowerCase());
  }

  function rank(id, wanted) {
    return id === wanted ? 0 : id.startsWith(wanted) ? 1 : 2;
  }

  /** Rows whose id holds the text: equal first, then those that begin with it. */
  function inRows(wanted) {
    const found = [];
    for (let row = 0; row < store.count; row += 1) {
      const id = small(String(store.value(row, "pole_id") || ""));
      if (id.includes(wanted)) {
        found.push({ row, rank: rank(id, wanted) });
      }
    }
    found.sort((a, b) => a.rank - b.rank || a.row - b.row);
    return {
      total: found.length,
      equal: found.filter((f) => f.rank === 0).length,
      hits: found.slice(0, MOST).map((f) => ({
        id: store.value(f.row, "pole_id"),
        verdict: store.value(f.row, "verdict"),
        select: () => lw.selectRow(f.row, { move: true }),
      })),
    };
  }

  function shardName(i) {
    return "data/search/" + String(i).padStart(3, "0") + ".json";
  }

  function hitOfShard(entry) {
    const [id, feature, lon, lat, verdict] = entry;
    const place = typeof lon === "number" && typeof lat === "number" ? [lon, lat] : null;
    return {
      id,
      verdict,
      select: (how) => lw.selectFeature(feature, Object.assign({ id, place, properties: null, verdict, move: true }, how)),
    };
  }

  /** Does one text stand before another where characters are ordered by their numbers, as the index is? */
  function isBefore(a, b) {
    const [x, y] = [[...a], [...b]];
    const at = x.findIndex((c, i) => c !== y[i]);
    return at < 0 ? x.length < y.length : at < y.length && x[at].codePointAt(0) < y[at].codePointAt(0);
  }

  /**
   * Entries whose ids begin with the text, from the files that may hold them, until there are some.
   * @returns {Promise<{found: Array, more: boolean}>} `more`: files were left unread that hold others
   */
  async function entries(wanted) {
    if (window.location.protocol === "file:") {
      throw new Error("browsers read no files from a page that is one");
    }
    const { first } = store.site.search;
    const after = first.findIndex((id) => !isBefore(id, wanted));
    const found = [];
    for (let i = Math.max(0, (after < 0 ? first.length : after) - 1); i < first.length; i += 1) {
      if (isBefore(wanted, first[i]) && !first[i].startsWith(wanted)) {
        break;
      }
      if (found.length >= MOST) {
        return { found, more: true };
      }
      const answer = await window.fetch(shardName(i));
      if (!answer.ok) {
        throw new Error(shardName(i) + " is not there");
      }
      found.push(...(await answer.json()).filter((e) => small(e[0]).startsWith(wanted)));
    }
    return { found, more: false };
  }

  async function inShards(wanted) {
    const { found, more } = await entries(wanted);
    const equal = found.filter((e) => small(e[0]) === wanted).length;
    return { total: found.length, atLeast: more, equal, hits: found.slice(0, MOST).map(hitOfShard), begins: true };
  }

  /**
   * Selects a pole of the tiles that an address names.
   * @param {string} id
   * @param {number} feature its number; of several with that id
   * @param {{move: boolean}} how
   */
  async function selectById(id, feature, how) {
    try {
      const { found } = await entries(small(id));
      const same = found.filter((e) => e[0] === id);
      const entry = same.find((e) => e[1] === feature) || same[0];
      if (entry) {
        hitOfShard(entry).select(how);
      }
    } catch (_) {
      // Opened as a file: there is no map either, and the page says so.
    }
  }

  async function find(text) {
    const wanted = small(text);
    if (!store.tiled || !store.site.search || !store.site.search.first) {
      return inRows(wanted);
    }
    try {
      return await inShards(wanted);
    } catch (_) {
      const out = inRows(wanted);
      out.note =
        " Only the " + store.counted(store.count) + " poles of the table were searched: to search all, open this folder through a web server (linewood serve FOLDER).";
      return out;
    }
  }

  function say(answer, text) {
    const n = answer.total;
    const found = (answer.atLeast ? "At least " : "") + store.counted(n) + (n === 1 ? " pole found" : " poles found");
    const words =
      n === 0
        ? "No pole has an id " + (answer.begins ? "that begins with" : "with") + " “" + text + "”."
        : found + (answer.begins ? ", by the beginning of its id." : ".");
    const more = n > MOST ? " The first " + MOST + " are listed." : "";
    dom.byId("search-said").textContent = words + more + (answer.note || "");
  }

  function list(answer) {
    dom.fill(
      dom.byId("search-hits"),
      answer.hits.map((hit) =>
        dom.element("li", {}, [
          dom.element("button", { type: "button", class: "plain", onclick: () => hit.select() }, [
            lw.marks.badge("verdict", hit.verdict === undefined ? null : hit.verdict),
            dom.element("bdi", { text: store.idShown(hit.id) }),
          ]),
        ]),
      ),
    );
  }

  async function search(go) {
    const text = dom.byId("search-id").value.trim();
    asked += 1;
    const mine = asked;
    if (text === "") {
      dom.byId("search-said").textContent = "";
      list({ hits: [] });
      return;
    }
    const answer = await find(text);
    if (mine !== asked) {
      return;
    }
    say(answer, text);
    list(answer);
    if (go && answer.hits.length > 0 && (answer.total === 1 || answer.equal === 1)) {
      answer.hits[0].select();
    }
  }

  function start() {
    const soon = dom.settled(() => search(false), 200);
    dom.byId("search-id").addEventListener("input", soon);
    dom.byId("search").addEventListener("submit", (e) => {
      e.preventDefault();
      search(true);
    });
  }

  lw.search = { start, selectById };
})((window.Linewood = window.Linewood || {}));
