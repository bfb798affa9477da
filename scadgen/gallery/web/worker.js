// Asks the kernel in its worker. Pages from a disk may start a worker only from text they hold.

export class Kernel {
  constructor(source) {
    const text = new Blob([`(${source})()`], { type: "text/javascript" });
    this.worker = new Worker(URL.createObjectURL(text));
    this.waiting = new Map();
    this.asked = 0;
    this.worker.onmessage = ({ data }) => this.answered(data);
    this.worker.onerror = (event) => this.failed(event.message || "the kernel did not start");
    this.newest = {};
  }

  ask(kind, question) {
    this.asked += 1;
    const id = this.asked;
    return new Promise((done, failed) => {
      this.waiting.set(id, { done, failed });
      this.worker.postMessage({ id, kind, question });
    });
  }

  // Asks what replaces an older question of that kind: null is the answer to one that is overtaken.
  async askNewest(kind, question) {
    const lane = (this.newest[kind] ??= { running: null, count: 0 });
    lane.count += 1;
    const own = lane.count;
    while (lane.running) await lane.running.catch(() => null);
    if (own !== lane.count) return null;
    lane.running = this.ask(kind, question);
    try {
      return await lane.running;
    } finally {
      lane.running = null;
    }
  }

  answered({ id, answer, error }) {
    const { done, failed } = this.waiting.get(id);
    this.waiting.delete(id);
    if (error === undefined) done(answer);
    else failed(new Error(error));
  }

  failed(why) {
    for (const { failed } of this.waiting.values()) failed(new Error(why));
    this.waiting.clear();
  }
}
