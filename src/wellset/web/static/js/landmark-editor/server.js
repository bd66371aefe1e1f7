// Talks to the server: load, preview, save. The server measures; nothing is measured here.

/** What the server refused, in its own words. */
export class Refusal extends Error {
  /** @param {number} status @param {{what: string, why: string, fix: string}} told */
  constructor(status, told) {
    super(`${told.what}: ${told.why} ${told.fix}`);
    this.status = status;
    this.told = told;
  }
}

const GONE = {
  what: "The book does not answer",
  why: "the connection is gone, or the program was stopped.",
  fix: "Your points are still on this page: try again.",
};

const SIGNED_OUT = {
  what: "You were signed out meanwhile",
  why: "nothing was kept.",
  fix: "Your points are still on this page: sign in in another tab, then save here.",
};

async function asked(address, method, body) {
  let answer;
  try {
    answer = await fetch(address, {
      method,
      headers: { accept: "application/json", ...(body ? { "content-type": "application/json" } : {}) },
      body: body ? JSON.stringify(body) : undefined,
    });
  } catch {
    throw new Refusal(0, GONE);
  }
  const data = await answer.json().catch(() => null);
  if (answer.ok && data) return data;
  throw new Refusal(answer.status, answer.status === 401 ? SIGNED_OUT : (data?.error ?? GONE));
}

/** @param {string} setup the set-up's id */
export function server(setup) {
  const root = `/api/setups/${encodeURIComponent(setup)}`;
  return {
    /** The points as they are kept, with their version. */
    load: () => asked(`${root}/points`, "GET"),
    /** What points would change; nothing is kept. */
    preview: ({ doc, first }) => asked(`${root}/preview`, "POST", { landmarks: doc, first_change: first }),
    /** Keep points over the version they were opened with. */
    save: (landmarks, version) => asked(`${root}/landmarks`, "PUT", { landmarks, version }),
  };
}

/** Asks for the newest only: while one answer is awaited, only the last question waits.
 * @template Q, A @param {(question: Q) => Promise<A>} ask
 * @param {{waiting: () => void, done: (answer: A, question: Q) => void, failed: (error: Error) => void}} told */
export function newestOnly(ask, told) {
  let busy = false;
  let next = null;
  async function run(question) {
    busy = true;
    told.waiting();
    try {
      const answer = await ask(question);
      if (!next) told.done(answer, question);
    } catch (error) {
      if (!next) told.failed(error);
    }
    busy = false;
    if (next) {
      const { question: waiting } = next;
      next = null;
      run(waiting);
    }
  }
  return (question) => {
    if (busy) next = { question };
    else run(question);
  };
}
