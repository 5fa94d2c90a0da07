// Hands on what the microphone hears, in blocks. It runs beside the page, where nothing holds it up.
class Capture extends AudioWorkletProcessor {
  constructor() {
    super();
    this.block = new Float32Array(4096);
    this.filled = 0;
  }

  process(inputs) {
    const heard = inputs[0][0];
    if (!heard) { return true; }
    if (this.filled + heard.length > this.block.length) { this.hand(); }
    this.block.set(heard, this.filled);
    this.filled += heard.length;
    return true;
  }

  hand() {
    this.port.postMessage(this.block.slice(0, this.filled));
    this.filled = 0;
  }
}

registerProcessor("capture", Capture);
