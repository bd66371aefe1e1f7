// Where the modules under test lie.
const ROOT = new URL("../../src/wellset/web/static/js/landmark-editor/", import.meta.url);

export const at = (name) => new URL(name, ROOT).href;
