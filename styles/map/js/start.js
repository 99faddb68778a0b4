// Puts the page together: first what needs no map, then the map.
(function (lw) {
  "use strict";

  const { store, state, dom } = lw;

  /** Tells the reader of a trouble, at the top of the page. */
  lw.say = (text) => {
    const line = dom.byId("trouble");
    line.textContent = text;
    line.hidden = false;
  };

  function summary() {
    const { counts, criteria, date } = store.site;
    const off = counts.poles - counts.placed;
    return (
      store.counted(counts.poles) + " poles" + (off > 0 ? " (" + store.counted(off) + " without a place, not on the map)" : "") +
      (criteria ? ", judged by " + criteria : "") + (date ? ", assessed " + date : "")
    );
  }

  function withoutMap(why) {
    dom.byId("map").hidden = true;
    const note = dom.byId("no-map");
    note.hidden = false;
    // The table takes the place of the map.
    note.after(dom.byId("poles"));
    dom.byId("layer-form").closest("details").hidden = true;
    note.textContent = why + " Everything else works: search, filters, the table of poles and each pole's record.";
  }

  function rest() {
    lw.legend.start();
    lw.controls.start();
    lw.counts.start();
    lw.search.start();
    lw.record.start();
    lw.table.start();
    lw.notes.start();
    lw.print.start();
    lw.link.follow();
    document.documentElement.classList.add("ready");
  }

  async function startMap() {
    if (!lw.map.possible()) {
      withoutMap("This browser cannot draw the map: WebGL is missing or switched off.");
      return;
    }
    if (store.tiled && window.location.protocol === "file:") {
      withoutMap("This map is made of tiles, which browsers do not read from a file: open the folder through a web server (linewood serve FOLDER).");
      return;
    }
    try {
      await lw.map.make();
      lw.overlays.start();
      lw.pick.start();
    } catch (e) {
      lw.map.map = null;
      withoutMap("The map could not be started (" + e.message + ").");
    }
  }

  async function start() {
    if (store.site === null || store.poles === null) {
      lw.say("The files data/site.js and data/poles.js were not read: is the folder whole?");
      return;
    }
    dom.byId("summary").textContent = summary();
    dom.byId("main").hidden = false;
    state.layers = new Set(lw.overlays.known().filter((l) => l.visible).map((l) => l.name));
    lw.link.read();
    if (window.matchMedia("(max-width: 900px)").matches) {
      dom.byId("filters").open = false;
    }
    await startMap();
    rest();
  }

  start();
})((window.Linewood = window.Linewood || {}));
