// What was typed survives a form that could not be kept: the session had ended, or somebody else
// saved meanwhile. It lies in this tab only, until it is kept or put back.

const KEY = "wellset draft";
const SKIPPED = "[type=hidden], [type=password], [type=file], [type=submit], [type=search]";

/** @param {Element} form */
function fieldsOf(form) {
  return [...form.elements].filter((e) => e.name && e.matches("input, select, textarea") && !e.matches(SKIPPED));
}

const ticks = (field) => field.type === "checkbox" || field.type === "radio";
const now = (field) => (ticks(field) ? field.checked : field.value);

/** @param {Element} field what it held when the page came */
function before(field) {
  if (ticks(field)) return field.defaultChecked;
  if (field.matches("select")) return ([...field.options].find((o) => o.defaultSelected) ?? field.options[0])?.value;
  return field.defaultValue;
}

function kept() {
  try {
    return JSON.parse(sessionStorage.getItem(KEY));
  } catch {
    return null;
  }
}

function keep(draft) {
  try {
    if (draft) sessionStorage.setItem(KEY, JSON.stringify(draft));
    else sessionStorage.removeItem(KEY);
  } catch {
    // no room, or not allowed: the browser's own way back still holds the form
  }
}

/** Remember what a form is sent with, as far as it was changed. */
function sent(event) {
  const form = event.target;
  if (form.method !== "post" || form.querySelector("[type=password]")) return;
  const typed = fieldsOf(form)
    .map((field, place) => ({ name: field.name, place, value: now(field), changed: now(field) !== before(field) }))
    .filter((each) => each.changed);
  keep(typed.length ? { page: location.pathname + location.search, goal: form.getAttribute("action") ?? "", typed } : null);
}

/** Put a draft back into the form it came from. */
function putBack(draft) {
  const form = [...document.forms].find((each) => each.method === "post" && (each.getAttribute("action") ?? "") === draft.goal);
  if (!form) return;
  const fields = fieldsOf(form);
  for (const each of draft.typed) {
    const field = fields[each.place];
    if (field?.name !== each.name) continue;
    if (ticks(field)) field.checked = each.value;
    else field.value = each.value;
    field.closest("details")?.setAttribute("open", "");
  }
  const told = document.createElement("p");
  told.className = "trouble";
  told.setAttribute("role", "status");
  told.textContent = "What you typed is back, but not kept yet: look it over, then send it again.";
  form.before(told);
  told.scrollIntoView({ block: "center" });
}

/** On every page: keep, put back or forget. */
export function drafts() {
  document.addEventListener("submit", sent);
  const draft = kept();
  if (!draft) return;
  if ("unsent" in document.body.dataset) {
    keep({ ...draft, unsent: true });
    document.querySelector("[data-draft-plain]")?.remove();
    const way = document.querySelector("[data-draft-way]");
    if (way) {
      way.hidden = false;
      way.querySelector("a")?.setAttribute("href", draft.page); // only a page of ours was ever noted
    }
    return;
  }
  const came = performance.getEntriesByType("navigation")[0]?.type;
  const here = draft.page === location.pathname + location.search;
  if (here && (draft.unsent || came === "back_forward")) putBack(draft);
  if (here || !draft.unsent) keep(null);
}
