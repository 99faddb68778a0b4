// Holds a published JSON Schema against the examples that it must take or refuse, by ajv:
//     node schemas.mjs SCHEMA EXAMPLES
// EXAMPLES as for tests/schema/check_examples.py, which asks another library the same.
import { readFileSync } from "node:fs";
import Ajv2020 from "ajv/dist/2020.js";

const [schemaFile, examplesFile] = process.argv.slice(2);
const read = (file) => JSON.parse(readFileSync(file, "utf8"));
const validate = new Ajv2020({ allErrors: true, strict: true, strictTypes: false, strictRequired: false })
    .compile(read(schemaFile));
const examples = read(examplesFile);
let problems = 0;
const complain = (what, document) => {
    problems += 1;
    console.log(`${what}: ${JSON.stringify(document)}`);
};

for (const document of [...examples.good, ...examples.bad_beyond_the_schema.map((e) => e.profile)]) {
    if (!validate(document)) {
        complain(`refused (${validate.errors[0].instancePath} ${validate.errors[0].message})`, document);
    }
}
for (const { path, profile } of examples.bad) {
    const pointed = validate(profile)
        ? []
        : validate.errors.map((e) => e.instancePath.split("/").slice(1).join(".") || "(top level)");
    if (!pointed.includes(path)) {
        complain(`not refused at ${path} but ${pointed.join(", ") || "taken"}`, profile);
    }
}

/// Every document with one thing wrong: a key that there is not in an object, an object or a list in place of a text,
/// number, yes or no. `open` are objects whose keys are the user's own.
const open = new Set(["codes", "sources"]);
function* mutants(value, put, path = []) {
    if (value === null || typeof value !== "object") {
        yield [path, put({ no: "such" })];
        yield [path, put([[]])];
        return;
    }
    if (!Array.isArray(value) && !open.has(path.at(-1))) {
        yield [path, put({ ...value, no_such_key: "x" })];
    }
    for (const key of Object.keys(value)) {
        const inner = (made) => {
            const copy = Array.isArray(value) ? [...value] : { ...value };
            copy[key] = made;
            return put(copy);
        };
        yield* mutants(value[key], inner, [...path, key]);
    }
}
let changed = 0;
for (const document of examples.good) {
    for (const [path, mutant] of mutants(document, (made) => made)) {
        changed += 1;
        if (validate(mutant)) {
            complain(`taken, though wrong at ${path.join(".")}`, mutant);
        }
    }
}

console.log(`${examples.good.length} taken, ${examples.bad.length} and ${changed} changed ones refused, ${problems} problems`);
process.exit(problems === 0 ? 0 : 1);
