// Search from file://. Browsers give such pages no worker, so a hidden frame does its work. Over http this file does nothing.
// It plays both parts: in a page it makes the frame, and in the frame it gives the search script what a worker would have.
"use strict";
(() => {
  const own = document.currentScript.src;
  if (window !== window.parent && window.frameElement && window.frameElement.dataset.worker) {
    window.postMessage = (message) => window.parent.postMessage(message, "*");
    const base = window.frameElement.dataset.worker;
    window.importScripts = (...addresses) => addresses.reduce((before, address) => before.then(() => load(document, new URL(address, base).href)), Promise.resolve());
    window.almanacReady = load(document, base);
    return;
  }
  if (location.protocol !== "file:") return;

  function load(page, address) {
    return new Promise((done, failed) => {
      const script = page.createElement("script");
      script.src = address;
      script.onload = done;
      script.onerror = failed;
      page.body.appendChild(script);
    });
  }

  /** @type {any} */ (window).Worker = class extends EventTarget {
    constructor(address) {
      super();
      this.onmessage = null;
      this.frame = document.createElement("iframe");
      this.frame.hidden = true;
      this.frame.title = "Search";
      this.frame.dataset.worker = new URL(address, document.baseURI).href;
      document.body.appendChild(this.frame);
      this.heard = (event) => {
        if (event.source !== this.frame.contentWindow) return;
        const message = new MessageEvent("message", { data: event.data });
        this.dispatchEvent(message);
        if (this.onmessage) this.onmessage(message);
      };
      addEventListener("message", this.heard);
      this.ready = load(this.frame.contentDocument, own).then(() => this.frame.contentWindow.almanacReady);
    }
    postMessage(data) {
      this.ready.then(() => this.frame.contentWindow.dispatchEvent(new MessageEvent("message", { data: structuredClone(data) })));
    }
    terminate() {
      removeEventListener("message", this.heard);
      this.frame.remove();
    }
  };
})();
