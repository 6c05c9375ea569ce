/** Asks the server. Every failure becomes an Error whose message is fit for the reader. */

/** The longest that a gloved hand should wait for an answer, ms. */
const PATIENCE_MS = 8000;

/**
 * @param {string} path
 * @param {RequestInit} [init]
 * @param {number} [patienceMs]
 * @returns {Promise<any>}
 */
async function ask(path, init, patienceMs = PATIENCE_MS) {
  /** @type {Response} */
  let response;
  try {
    response = await fetch(path, { ...init, signal: AbortSignal.timeout(patienceMs) });
  } catch {
    throw new Error('the daemon does not answer');
  }
  const body = await response.json().catch(() => ({}));
  if (!response.ok) {
    const failure = new Refusal(body.error ?? `the daemon answered ${response.status}`, response.status);
    throw failure;
  }
  return body;
}

/** An answer that is not what was asked for. */
export class Refusal extends Error {
  /**
   * @param {string} message
   * @param {number} status
   */
  constructor(message, status) {
    super(message);
    this.status = status;
  }
}

/** @param {string} path */
export const get = (path) => ask(path);

/**
 * @param {string} path
 * @param {object} body
 * @param {number} [patienceMs]
 */
export const post = (path, body, patienceMs) =>
  ask(path, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) }, patienceMs);

/**
 * Path of something of one forge.
 *
 * @param {string} forge
 * @param {string} rest
 */
export const of = (forge, rest) => `api/v1/forges/${encodeURIComponent(forge)}/${rest}`;
