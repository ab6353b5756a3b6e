// What is new at a visit: a stream of events while the page is looked at, else (and where no stream gets through) polling.

const POLL_MS = 1000;
const TRY_STREAM_AGAIN_MS = 30000;
const FAILURES = 3;

export class Follower {
  constructor(panel, take) {
    this.panel = panel;
    this.take = take;
    this.seen = panel.dataset.keySeen ?? "";
    this.source = null;
    this.failures = 0;
    this.onShow = () => { this.failures = 0; this.begin(); };
    this.onSwap = () => { if (!panel.isConnected) this.end(); }; // a browser has few lines to one shop: none is left idle
    document.addEventListener("visibilitychange", this.onShow);
    document.addEventListener("htmx:afterSwap", this.onSwap);
    window.addEventListener("pagehide", () => this.close(), { once: true });
    this.begin();
  }

  begin() {
    this.close();
    if (!this.panel.isConnected) return this.end();
    if ("pollOnly" in this.panel.dataset || document.hidden || this.failures >= FAILURES) return this.poll();
    this.source = new EventSource(this.panel.dataset.events);
    this.source.addEventListener("open", () => { this.failures = 0; });
    this.source.addEventListener("state", (event) => this.got(JSON.parse(event.data)));
    this.source.addEventListener("error", () => this.failed());
  }

  close() {
    this.source?.close();
    this.source = null;
    clearTimeout(this.next);
    clearTimeout(this.again);
    this.round = {}; // an answer to an earlier poll begins no second row of polls
  }

  end() {
    this.close();
    document.removeEventListener("visibilitychange", this.onShow);
    document.removeEventListener("htmx:afterSwap", this.onSwap);
  }

  failed() {
    this.failures += 1;
    if (this.failures < FAILURES && this.source?.readyState !== EventSource.CLOSED) return;
    this.failures = FAILURES;
    this.begin();
    this.again = setTimeout(() => { this.failures = 0; this.begin(); }, TRY_STREAM_AGAIN_MS);
  }

  got(state) {
    if (!this.panel.isConnected) return this.begin();
    if (state.key === this.seen) return;
    this.seen = state.key;
    this.take(state);
  }

  async poll() {
    const round = this.round;
    try {
      const address = new URL(this.panel.dataset.poll, location.href);
      address.searchParams.set("seen", this.seen);
      const answer = await fetch(address, { headers: { Accept: "application/json" } });
      if (answer.status === 200 && !answer.redirected) this.got(await answer.json());
    } catch { /* the shop is away; the next try follows */ }
    if (round === this.round && this.panel.isConnected) this.next = setTimeout(() => this.poll(), POLL_MS);
  }
}
