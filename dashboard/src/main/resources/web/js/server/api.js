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
    const retryAfter = Number(response.headers.get('Retry-After') ?? '');
    throw new Refusal(body.error ?? `the daemon answered ${response.status}`, response.status, retryAfter > 0 ? retryAfter : null);
  }
  return body;
}

/** An answer that is not what was asked for. */
export class Refusal extends Error {
  /**
   * @param {string} message
   * @param {number} status
   * @param {number|null} [retryAfterS] when the server asks to come back
   */
  constructor(message, status, retryAfterS = null) {
    super(message);
    this.status = status;
    this.retryAfterS = retryAfterS;
  }
}

/**
 * @param {string} path
 * @param {number} [patienceMs]
 */
export const get = (path, patienceMs) => ask(path, undefined, patienceMs);

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
