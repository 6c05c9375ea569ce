/** The live stream of the daemon. Opens itself again after every break. */

/** @typedef {import('../server/types.js').Snapshot} Snapshot */

/** Between two tries, ms: soon enough to be back within a glance, rare enough for a small board. */
const RETRY_MS = 2000;

/** One stream at a time, of one forge. */
export class Stream {
  /**
   * @param {object} heard
   * @param {() => void} heard.opened after each opening: catch up what was missed
   * @param {() => void} heard.anything with every event
   * @param {(snapshot: Snapshot) => void} heard.snapshot
   * @param {(forge: string, alarms: import('../server/types.js').Alarm[]) => void} heard.alarms of another forge
   * @param {(forge: string) => void} heard.written
   * @param {(serverT: number, judgedAgoS: number) => void} heard.heartbeat second: since readings were last judged, s
   */
  constructor(heard) {
    this.heard = heard;
    /** @type {EventSource|null} */
    this.source = null;
    /** @type {ReturnType<typeof setTimeout>|undefined} */
    this.retry = undefined;
    this.forge = '';
  }

  /** @param {string} forge */
  open(forge) {
    this.close();
    this.forge = forge;
    const source = new EventSource(`api/v1/live?forge=${encodeURIComponent(forge)}`);
    this.source = source;
    source.addEventListener('open', () => this.heard.opened());
    source.addEventListener('error', () => {
      source.close();
      if (this.source === source) {
        clearTimeout(this.retry);
        this.retry = setTimeout(() => this.open(forge), RETRY_MS);
      }
    });
    this.listen(source, 'heartbeat', (data) => this.heard.heartbeat(data.serverT, data.judgedAgoS ?? 0));
    this.listen(source, 'snapshot', (data) => this.heard.snapshot(data));
    this.listen(source, 'alarms', (data) => this.heard.alarms(data.forge, data.alarms));
    this.listen(source, 'written', (data) => this.heard.written(data.forge));
  }

  close() {
    clearTimeout(this.retry);
    this.source?.close();
    this.source = null;
  }

  /**
   * @param {EventSource} source
   * @param {string} name
   * @param {(data: any) => void} hear
   */
  listen(source, name, hear) {
    source.addEventListener(name, (event) => {
      if (this.source === source) {
        this.heard.anything();
        hear(JSON.parse(/** @type {MessageEvent} */ (event).data));
      }
    });
  }
}
