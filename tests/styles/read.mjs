// read.mjs layers.json FOLDER STYLE.json: FOLDER/<style>.sld (1.0) and .se (1.1), read by the parser of another project, must
// say what layers.json says: a rule a class with its words, colours, marks, sizes and limits. STYLE.json, of a published map, must
// be valid to the map library's own specification.
import fs from 'node:fs';
import path from 'node:path';
import vm from 'node:vm';
import { validateStyleMin } from '@maplibre/maplibre-gl-style-spec';

const [layers, folder, mapStyle] = process.argv.slice(2);
let problems = 0;

// Its modules name each other without an ending, which Node.js does not find: the one file for browsers, then.
const bundle = new URL('node_modules/geostyler-sld-parser/dist/sldStyleParser.iife.js', import.meta.url);
const SldStyleParser = vm.runInThisContext(`${fs.readFileSync(bundle, 'utf8')};GeoStylerSLDParser`).SldStyleParser;

function want(holds, where, what) {
    if (!holds) {
        problems += 1;
        console.log(`${where}: ${what}`);
    }
}

function same(seen, wanted, where, what) {
    want(JSON.stringify(seen) === JSON.stringify(wanted), where,
        `${what} is ${JSON.stringify(seen)}, not ${JSON.stringify(wanted)}`);
}

// The comparisons of a filter, without what joins them.
function comparisons(filter) {
    const found = [];
    const walk = (node) => {
        if (!Array.isArray(node)) {
            return;
        }
        if (['==', '>=', '<'].includes(node[0])) {
            found.push(node);
        } else {
            node.slice(1).forEach(walk);
        }
    };
    walk(filter);
    return found;
}

function checkFilter(cls, field, filter, where) {
    const seen = comparisons(filter).filter((c) => c[2] !== null);
    const limits = Object.fromEntries(seen.map(([how, name, value]) => {
        same(name, cls.field ?? field, where, 'the field');
        return [how, Number.isNaN(Number(value)) ? value : Number(value)];
    }));
    const wanted = {};
    if ('value' in cls) {
        wanted['=='] = typeof cls.value === 'boolean' ? Number(cls.value) : cls.value;
    }
    if ('from' in cls) {
        wanted['>='] = cls.from;
    }
    if ('to' in cls) {
        wanted['<'] = cls.to;
    }
    same(limits, wanted, where, 'the condition');
}

function checkLook(cls, symbols, where) {
    if (cls.mark) {
        const [mark] = symbols;
        const tick = cls.mark.shape.endsWith('tick');
        same(mark.wellKnownName.toLowerCase(), tick ? 'shape://vertline' : cls.mark.shape, where, 'the mark');
        same((tick ? mark.strokeColor : mark.color)?.toUpperCase(), cls.mark.fill, where, 'the colour');
        same(tick ? undefined : 2 * mark.radius, tick ? undefined : cls.mark.size, where, 'the size');
    } else if (cls.line) {
        const [line] = symbols;
        same(line.color.toUpperCase(), cls.line.colour, where, 'the colour');
        same(line.width, cls.line.width, where, 'the width');
        same(line.dasharray?.map(Number), cls.line.dash, where, 'the dash');
    } else {
        const [fill] = symbols;
        same(fill.color?.toUpperCase(), cls.area.fill, where, 'the colour');
        same(fill.fillOpacity, cls.area.fill ? cls.area.opacity : undefined, where, 'the opacity');
        same(fill.graphicFill?.wellKnownName, cls.area.hatch ? 'shape://slash' : undefined, where, 'the hatch');
        same(fill.outlineColor?.toUpperCase(), cls.area.outline?.colour, where, 'the outline');
        same(fill.outlineWidth, cls.area.outline?.width, where, "the outline's width");
    }
}

const { styles } = JSON.parse(fs.readFileSync(layers, 'utf8'));
for (const style of styles) {
    for (const [ending, version] of [['sld', '1.0.0'], ['se', '1.1.0']]) {
        const text = fs.readFileSync(path.join(folder, `${style.name}.${ending}`), 'utf8');
        const { output, errors } = await new SldStyleParser({ sldVersion: version }).readStyle(text);
        const where = `${style.name}.${ending}`;
        want(!errors?.length && output, where, String(errors));
        const classes = [...style.classes, ...(style.over ?? [])];
        const rules = output?.rules ?? [];
        // It calls a rule by its title where that stands beside the name, as in 1.0.
        same(rules.map((r) => r.name), classes.map((c) => (ending === 'sld' ? c.label : c.id)), where, 'the list of rules');
        rules.forEach((rule, i) => {
            const inside = `${where} ${rule.name}`;
            if (!classes[i].rest) {
                checkFilter(classes[i], style.field, rule.filter, inside);
            }
            checkLook(classes[i], rule.symbolizers, inside);
        });
    }
}
const published = JSON.parse(fs.readFileSync(mapStyle, 'utf8'));
for (const { message } of validateStyleMin(published)) {
    want(false, path.basename(mapStyle), message);
}
want(published.layers.length > 10, path.basename(mapStyle), 'hardly a layer');
console.log(`${2 * styles.length} styles and a map of ${published.layers.length} layers read, ${problems} problems`);
process.exit(problems ? 1 : 0);
