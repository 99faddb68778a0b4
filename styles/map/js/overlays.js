// Layers beside the poles: their files are read when they are first switched on.
(function (lw) {
  "use strict";

  const { store, state, dom } = lw;
  const asked = new Map();

  function known() {
    return [...store.site.layers, ...store.site.backgrounds];
  }

  /** Loads a layer's file once. */
  function load(layer) {
    if (!asked.has(layer.name)) {
      asked.set(
        layer.name,
        dom.loadScript(layer.file).then(() => {
          const data = (window.LINEWOOD_LAYERS || {})[layer.name];
          if (!data) {
            throw new Error(layer.file + " does not hold the layer " + layer.name);
          }
          lw.map.map.getSource(layer.name).setData(data);
        }),
      );
    }
    return asked.get(layer.name);
  }

  function follow() {
    for (const layer of known()) {
      const wanted = state.layers.has(layer.name);
      if (!lw.map.map.getSource(layer.name)) {
        continue;
      }
      lw.map.layersOf(layer.name).forEach((id) => lw.map.show(id, wanted));
      if (wanted) {
        load(layer).catch((e) => lw.say("The layer " + layer.title + " is not shown: " + e.message));
      }
    }
    const credits = store.site.backgrounds.filter((b) => state.layers.has(b.name) && b.attribution);
    dom.byId("attribution").textContent = credits.map((b) => b.title + ": " + b.attribution).join(" · ");
  }

  /** Says which of the layers that are on are drawn only from nearer. */
  function sayUnseen() {
    const zoom = lw.map.map.getZoom();
    const weakest = { name: "weakest", title: "Weakest direction of each pole" };
    const unseen = [weakest, ...known()].filter((l) => state.layers.has(l.name) && lw.map.nearest(l.name) > zoom);
    dom.byId("unseen").textContent =
      unseen.length === 0 ? "" : "Not drawn at this scale, zoom in: " + unseen.map((l) => l.title).join(", ") + ".";
  }

  /** Switches layers as the state says, now and from now on. */
  function start() {
    lw.on("layers", follow);
    lw.on("layers", sayUnseen);
    lw.on("view", sayUnseen);
    follow();
    sayUnseen();
  }

  function facts(layer, properties) {
    const fields = layer.fields || Object.keys(properties).map((name) => ({ name }));
    return fields.filter((f) => properties[f.name] !== undefined && properties[f.name] !== null);
  }

  /**
   * What a popup says of a feature of a layer.
   * @param {Object} layer of the site
   * @param {Object} properties
   * @returns {HTMLElement}
   */
  function describe(layer, properties) {
    const rows = facts(layer, properties).map((f) =>
      dom.element("tr", {}, [
        dom.element("th", { scope: "row", text: store.titleOf(f) }),
        dom.element("td", {}, [dom.element("bdi", { text: store.shown(properties[f.name]) + (f.unit ? " " + f.unit : "") })]),
      ]),
    );
    const name = layer.label ? properties[layer.label] : undefined;
    const label = name === undefined || name === null ? [] : [": ", dom.element("bdi", { text: String(name) })];
    return dom.element("section", { class: "about" }, [
      dom.element("h3", {}, [layer.title, ...label]),
      dom.element("table", { class: "facts" }, [dom.element("tbody", {}, rows)]),
      sheetLink(layer, properties),
    ].filter(Boolean));
  }

  function sheetLink(layer, properties) {
    const sheets = layer.sheets || {};
    const id = String(properties[layer.label]);
    const path = Object.prototype.hasOwnProperty.call(sheets, id) ? dom.safePath(sheets[id]) : null;
    return path === null ? null : dom.element("p", {}, [dom.link(path, "Open its sheet")]);
  }

  /**
   * The layers, of those that are on, that have a feature here, with that feature.
   * @param {*} where a point or box of the map
   * @returns {Array<{layer: Object, properties: Object}>}
   */
  function at(where) {
    const out = [];
    for (const layer of store.site.layers.filter((l) => state.layers.has(l.name))) {
      const seen = new Set();
      const ids = lw.map.layersOf(layer.name);
      for (const feature of ids.length > 0 ? lw.map.map.queryRenderedFeatures(where, { layers: ids }) : []) {
        const key = JSON.stringify(feature.properties);
        if (!seen.has(key) && seen.size < 3) {
          seen.add(key);
          out.push({ layer, properties: feature.properties });
        }
      }
    }
    return out;
  }

  lw.overlays = { start, describe, at, known };
})((window.Linewood = window.Linewood || {}));
