// The forms: which poles, coloured by what, which layers.
(function (lw) {
  "use strict";

  const { store, state, dom } = lw;
  const { filters, words, years, later } = lw.filters;

  function wordLabel(field, word) {
    if (word === null) {
      return field === "urgency" ? lw.marks.badge("urgency", null) : "none recorded";
    }
    return field === "circuit" ? dom.element("bdi", { text: String(word) }) : lw.marks.badge(field, word);
  }

  /** Boxes for the words of a field; all ticked is no filter. */
  function wordBoxes(field, title) {
    const known = words[field];
    const boxes = known.map((word) => {
      const wanted = filters[field] === null || filters[field].has(word);
      const box = dom.element("input", { type: "checkbox", checked: wanted, onchange: () => take() });
      return { word, box };
    });
    function take() {
      const on = boxes.filter((b) => b.box.checked).map((b) => b.word);
      filters[field] = on.length === known.length ? null : new Set(on);
      lw.tell("filters");
    }
    const labels = boxes.map((b) => dom.element("label", { class: "tick" }, [b.box, wordLabel(field, b.word)]));
    return dom.element("fieldset", { class: "words" }, [
      dom.element("legend", { text: title }),
      dom.element("div", { class: "ticks" }, labels),
    ]);
  }

  /** Two figures and whether poles without one count; the whole range is no filter. */
  function rangeBoxes(o) {
    const number = (label, value) => {
      const input = dom.element("input", { type: "number", min: o.low, max: o.high, step: 1, value, onchange: () => take() });
      return { input, label: dom.element("label", { class: "figure" }, [label + " ", input]) };
    };
    const now = filters[o.field];
    const from = number("from", now ? now[0] : o.low);
    const to = number("to", now ? now[1] : o.high);
    const also = o.also.map(({ field, title }) => {
      const box = dom.element("input", { type: "checkbox", checked: now === null || filters[field], onchange: () => take() });
      return { field, box, label: dom.element("label", { class: "tick" }, [box, title]) };
    });
    function figure(input, otherwise) {
      const v = input.value === "" ? NaN : Number(input.value);
      return Number.isFinite(v) ? v : otherwise;
    }
    function take() {
      const range = [figure(from.input, o.low), figure(to.input, o.high)];
      const whole = range[0] <= o.low && range[1] >= o.high && also.every((a) => a.box.checked);
      filters[o.field] = whole ? null : range;
      also.forEach((a) => {
        filters[a.field] = a.box.checked;
      });
      lw.tell("filters");
    }
    return dom.element("fieldset", {}, [
      dom.element("legend", { text: o.title }),
      dom.element("div", { class: "range" }, [from.label, to.label]),
      ...also.map((a) => a.label),
    ]);
  }

  function fillFilters() {
    const form = dom.byId("filter-form");
    const parts = [wordBoxes("verdict", "Verdict"), wordBoxes("urgency", "Urgency")];
    if (words.circuit.length > 0) {
      parts.push(wordBoxes("circuit", "Circuit"));
    }
    parts.push(
      rangeBoxes({
        field: "strength", low: 0, high: 100, title: "Remaining strength, %",
        also: [{ field: "strengthAbsent", title: "also without a figure" }],
      }),
    );
    if (years.length > 0) {
      const also = [{ field: "yearAbsent", title: "also never inspected or undated" }];
      if (later > 0) {
        also.push({ field: "yearLater", title: "also dated after " + store.site.date + " (" + store.counted(later) + ")" });
      }
      parts.push(
        rangeBoxes({ field: "year", low: years[0], high: years[years.length - 1], title: "Year of inspection", also }),
      );
    }
    const clear = dom.element("button", {
      type: "button",
      id: "clear-filters",
      text: "Show all poles again",
      onclick: () => {
        lw.filters.clear();
        fillFilters();
        lw.tell("filters");
        dom.byId("clear-filters").focus();
      },
    });
    dom.fill(form, [...parts, clear]);
  }

  const THEMES = { verdict: "Verdict", urgency: "Urgency", strength: "Strength" };

  function themeBoxes() {
    const boxes = Object.keys(THEMES).map((theme) =>
      dom.element("label", {}, [
        dom.element("input", {
          type: "radio",
          name: "theme",
          value: theme,
          checked: state.theme === theme,
          onchange: () => {
            state.theme = theme;
            lw.tell("theme");
          },
        }),
        dom.element("span", { text: THEMES[theme] }),
      ]),
    );
    return dom.element("fieldset", { class: "themes" }, [dom.element("legend", { text: "Colour by" }), ...boxes]);
  }

  function copyLink(button) {
    lw.link.write();
    const said = (text) => {
      button.textContent = text;
      window.setTimeout(() => {
        button.textContent = "Copy link to this view";
      }, 2500);
    };
    const copied = navigator.clipboard ? navigator.clipboard.writeText(window.location.href) : Promise.reject(new Error("none"));
    copied.then(() => said("Copied"), () => said("Copy it from the address bar"));
  }

  function fillBar() {
    const withMap = lw.map.map !== null;
    const button = (text, run) => dom.element("button", { type: "button", text, onclick: run });
    const copy = button("Copy link to this view", () => copyLink(copy));
    dom.fill(dom.byId("bar"), [
      ...(withMap ? [themeBoxes()] : []),
      dom.element("div", { class: "actions" }, [
        ...(withMap ? [button("See all", () => lw.map.fitAll())] : []),
        copy,
        button("Print", () => window.print()),
      ]),
    ]);
  }

  function layerBox(name, title, without) {
    const notes = [
      lw.map.nearest(name) > 0 ? "drawn from nearer" : "",
      without > 0 ? store.counted(without) + " without a place" : "",
    ].filter((n) => n !== "");
    return dom.element("label", { class: "tick" }, [
      dom.element("input", {
        type: "checkbox",
        name,
        checked: state.layers.has(name),
        onchange: (e) => lw.switchLayer(name, e.target.checked),
      }),
      ...lw.legend.swatch(name),
      dom.element("span", {}, [
        title,
        ...(notes.length > 0 ? [dom.element("small", { text: " " + notes.join(", ") })] : []),
      ]),
    ]);
  }

  function fillLayers() {
    const { layers, backgrounds } = store.site;
    const known = layers.map((l) => layerBox(l.name, l.title, l.without_place));
    const group = (title, boxes) =>
      dom.element("fieldset", {}, [dom.element("legend", { text: title }), dom.element("div", { class: "ticks" }, boxes)]);
    const parts = [group("On the map", [layerBox("weakest", "Weakest direction of each pole"), ...known])];
    if (backgrounds.length > 0) {
      parts.push(group("Background", backgrounds.map((b) => layerBox(b.name, b.title, b.without_place))));
    }
    dom.fill(dom.byId("layer-form"), parts);
  }

  function fill() {
    fillFilters();
    fillBar();
    fillLayers();
  }

  function start() {
    fill();
    window.addEventListener("hashchange", () => fill());
  }

  lw.controls = { start };
})((window.Linewood = window.Linewood || {}));
