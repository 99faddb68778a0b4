// The map: the style of the folder with the page's sources, the theme that is shown, what is filtered and selected.
(function (lw) {
  "use strict";

  const { store, state, dom } = lw;
  const EMPTY = { type: "FeatureCollection", features: [] };
  let map = null;
  let themes = new Map();
  const base = new Map();

  /** Styles of the poles that the page chooses among; all others belong to the layers beside them. */
  const THEMES = {
    poles_by_verdict: "verdict",
    poles_by_urgency: "urgency",
    poles_by_strength: "strength",
    poles_weakest_direction: "weakest",
  };

  function styleOf(layer) {
    return (layer.metadata && layer.metadata["linewood:style"]) || "";
  }

  /** The folder's style with sources that this page can read. */
  function style() {
    const out = JSON.parse(JSON.stringify(store.site.style || { version: 8, layers: [] }));
    out.sources = { poles: lw.poleSource.source(), "lw-selected": { type: "geojson", data: EMPTY } };
    out.layers = out.layers.filter((l) => l.type !== "background");
    for (const layer of out.layers) {
      if (layer.source === "poles" && store.tiled) {
        layer["source-layer"] = "poles";
      } else {
        delete layer["source-layer"];
      }
      if (layer.source && !out.sources[layer.source]) {
        out.sources[layer.source] = { type: "geojson", data: EMPTY };
      }
      layer.layout = Object.assign({}, layer.layout, { visibility: "none" });
      base.set(layer.id, layer.filter || null);
    }
    for (const background of store.site.backgrounds) {
      out.sources[background.name] = { type: "geojson", data: EMPTY };
    }
    const ground = { id: "lw-ground", type: "background", paint: { "background-color": "#F4F4F0" } };
    out.layers = [ground, ...store.site.backgrounds.flatMap(backgroundLayers), ...out.layers, ...selectionLayers()];
    return out;
  }

  function backgroundLayers(background) {
    const kind = (type, of, paint) => ({
      id: background.name + "-" + type,
      type,
      source: background.name,
      filter: ["==", ["geometry-type"], of],
      layout: { visibility: "none" },
      paint,
    });
    return [
      kind("fill", "Polygon", { "fill-color": "#D9DAD3", "fill-outline-color": "#A2A69C" }),
      kind("line", "LineString", { "line-color": "#9A9E94", "line-width": 1.2 }),
      kind("circle", "Point", { "circle-color": "#9A9E94", "circle-radius": 2.5 }),
    ];
  }

  function selectionLayers() {
    const ring = (id, width, colour) => ({
      id,
      type: "circle",
      source: "lw-selected",
      paint: { "circle-radius": 13, "circle-opacity": 0, "circle-stroke-width": width, "circle-stroke-color": colour },
    });
    return [ring("lw-selected-halo", 6, "#FFFFFF"), ring("lw-selected-ring", 3, "#1A1A1A")];
  }

  /** Can this browser draw the map? */
  function possible() {
    try {
      const canvas = document.createElement("canvas");
      return Boolean(window.maplibregl && (canvas.getContext("webgl2") || canvas.getContext("webgl")));
    } catch (_) {
      return false;
    }
  }

  function bounds() {
    const b = store.site.bounds;
    return b && b.every(Number.isFinite) ? [[b[0], b[1]], [b[2], b[3]]] : [[-180, -60], [180, 75]];
  }

  const FIT = { padding: 36, maxZoom: 17, animate: false };

  function options() {
    const out = {
      container: "map",
      style: style(),
      attributionControl: false,
      dragRotate: false,
      pitchWithRotate: false,
      touchPitch: false,
      rollEnabled: false,
      renderWorldCopies: false,
      fadeDuration: 0,
      maxZoom: 21,
      locale: { "Map.Title": "Map of poles. Arrow keys move, plus and minus zoom." },
    };
    if (state.position) {
      out.center = [state.position.lon, state.position.lat];
      out.zoom = state.position.zoom;
    } else {
      out.bounds = bounds();
      out.fitBoundsOptions = FIT;
    }
    return out;
  }

  function show(id, wanted) {
    map.setLayoutProperty(id, "visibility", wanted ? "visible" : "none");
  }

  function showTheme() {
    for (const [theme, layers] of themes) {
      const wanted = theme === "weakest" ? state.layers.has("weakest") : theme === state.theme;
      layers.forEach((id) => show(id, wanted));
    }
  }

  /** A pole without a weakest direction keeps its own mark uncovered. */
  const HAS_WEAKEST = ["==", ["typeof", ["get", "weakest_azimuth"]], "number"];

  function filterMap() {
    const wanted = lw.filters.expression(lw.poleSource.full(map.getZoom()));
    for (const [theme, layers] of themes) {
      for (const id of layers) {
        map.setFilter(id, ["all", ...(base.get(id) ? [base.get(id)] : []), ...(theme === "weakest" ? [HAS_WEAKEST] : []), wanted]);
      }
    }
  }

  function ringSelected() {
    const at = state.selected && state.selected.place;
    const feature = at && { type: "Feature", properties: {}, geometry: { type: "Point", coordinates: at } };
    map.getSource("lw-selected").setData(feature || EMPTY);
    if (at && state.selected.move) {
      map.jumpTo({ center: at, zoom: Math.max(map.getZoom(), 16) });
    }
  }

  function remember() {
    const { lng, lat } = map.getCenter();
    state.position = { lon: lng, lat, zoom: map.getZoom() };
    lw.tell("view");
  }

  function listen() {
    let wasFull = lw.poleSource.full(map.getZoom());
    lw.on("theme", showTheme);
    lw.on("layers", showTheme);
    lw.on("filters", filterMap);
    lw.on("selected", ringSelected);
    lw.on("position", () => {
      const { lon, lat, zoom } = state.position;
      map.jumpTo({ center: [lon, lat], zoom });
    });
    map.on("moveend", () => {
      const isFull = lw.poleSource.full(map.getZoom());
      if (isFull !== wasFull) {
        wasFull = isFull;
        filterMap();
      }
      remember();
    });
    map.on("idle", () => lw.tell("drawn"));
  }

  function groupThemes() {
    themes = new Map();
    for (const layer of map.getStyle().layers) {
      const theme = THEMES[styleOf(layer)];
      if (layer.source === "poles" && theme !== undefined) {
        themes.set(theme, [...(themes.get(theme) || []), layer.id]);
      }
    }
  }

  /** The layers of the map that draw a layer of the site: of several styles, the first. */
  function layersOf(name) {
    const drawn = map.getStyle().layers.filter((l) => l.source === name);
    return drawn.filter((l) => styleOf(l) === styleOf(drawn[0])).map((l) => l.id);
  }

  /**
   * The zoom from which on a layer of the site is drawn.
   * @param {string} name
   * @returns {number} 0 where it always is
   */
  function nearest(name) {
    const all = (store.site.style || { layers: [] }).layers;
    const drawn = all.filter((l) => (name === "weakest" ? THEMES[styleOf(l)] === name : l.source === name));
    const least = drawn.filter((l) => styleOf(l) === styleOf(drawn[0])).map((l) => l.minzoom || 0);
    return least.length === 0 ? 0 : Math.min(...least);
  }

  /** Layers of the map in which poles are found. */
  function poleLayers() {
    return themes.get(state.theme) || [];
  }

  /**
   * Makes the map.
   * @returns {Promise<maplibregl.Map>} when it is drawn the first time
   */
  function make() {
    map = new window.maplibregl.Map(options());
    lw.map.map = map;
    map.touchZoomRotate.disableRotation();
    map.keyboard.disableRotation();
    map.addControl(new window.maplibregl.NavigationControl({ showCompass: false }), "top-right");
    map.addControl(
      new window.maplibregl.ScaleControl({ unit: store.site.units === "us" ? "imperial" : "metric" }),
      "bottom-left",
    );
    map.on("error", (e) => lw.say("The map met a problem: " + (e.error ? e.error.message : "unknown")));
    return new Promise((resolve) => {
      map.on("load", () => {
        groupThemes();
        lw.marks.addImages(map);
        showTheme();
        filterMap();
        ringSelected();
        listen();
        remember();
        resolve(map);
      });
    });
  }

  /** Moves to where all poles are seen. */
  function fitAll() {
    map.fitBounds(bounds(), FIT);
  }

  /** Metres that one pixel of the page stands for, in the middle of the map. */
  function metresPerPixel() {
    return (40075016.686 * Math.cos((map.getCenter().lat * Math.PI) / 180)) / (512 * Math.pow(2, map.getZoom()));
  }

  lw.map = { map: null, possible, make, fitAll, poleLayers, layersOf, nearest, show, metresPerPixel, EMPTY };
})((window.Linewood = window.Linewood || {}));
