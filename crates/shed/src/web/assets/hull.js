// The hull, walked round: flat-shaded planks, inked lines, one plane to cut her, the wood it goes through filled in. WebGL 2, drawn only when something moves.
import { listeners, page } from "./live.js";

const canvas = /** @type {HTMLCanvasElement} */ (document.getElementById("hull"));
const found = canvas.getContext("webgl2", { antialias: true, preserveDrawingBuffer: true, stencil: true });
const input = (/** @type {string} */ id) => /** @type {HTMLInputElement} */ (document.getElementById(id));
const [turn, eye, off, heel] = ["turn", "eye", "off", "heel"].map(input);
const cut = /** @type {HTMLSelectElement} */ (document.getElementById("cut"));

const COMMON = `#version 300 es
precision highp float;
uniform mat4 view;
uniform float bias;
in vec3 at;
out vec3 p;
void main() { p = at; gl_Position = view * vec4(at, 1.0); gl_Position.z -= bias * gl_Position.w; }`;
const FACES = `#version 300 es
precision highp float;
uniform vec3 from, light, wood, inside;
uniform float cut;
in vec3 p;
out vec4 colour;
void main() {
  if (p.x < cut) discard;
  vec3 n = normalize(cross(dFdx(p), dFdy(p)));
  vec3 to = normalize(from - p);
  if (dot(n, to) < 0.0) n = -n;
  float lit = 0.52 + 0.36 * max(0.0, dot(n, light)) + 0.16 * max(0.0, dot(n, to));
  bool within = dot(n, vec3(0.0, p.y, -220.0)) < 0.0;
  colour = vec4((within ? inside : wood) * lit, 1.0);
}`;
const LINES = `#version 300 es
precision highp float;
uniform vec3 ink;
uniform float cut;
in vec3 p;
out vec4 colour;
void main() { if (p.x < cut) discard; colour = vec4(ink, 1.0); }`;

/** How far, in her own units: metres, inches, or feet and inches. @param {number} mm */
function away(mm) {
  if (canvas.dataset.lengths === "mm") return `${(mm / 1000).toFixed(2)} m`;
  const inches = Math.round(Math.abs(mm) / 25.4);
  const minus = mm < 0 && inches > 0 ? "\u2212" : "";
  return canvas.dataset.lengths === "in" ? `${minus}${inches} in` : `${minus}${Math.floor(inches / 12)} ft ${inches % 12} in`;
}

if (found) start(found);
else /** @type {HTMLElement} */ (document.getElementById("no-hull")).hidden = false;

/** @param {WebGL2RenderingContext} gl */
function start(gl) {
  /** @param {string} fragment */
  const program = (fragment) => {
    const made = gl.createProgram();
    for (const [kind, text] of /** @type {[number, string][]} */ ([[gl.VERTEX_SHADER, COMMON], [gl.FRAGMENT_SHADER, fragment]])) {
      const shader = /** @type {WebGLShader} */ (gl.createShader(kind));
      gl.shaderSource(shader, text);
      gl.compileShader(shader);
      gl.attachShader(made, shader);
    }
    gl.bindAttribLocation(made, 0, "at");
    gl.linkProgram(made);
    if (!gl.getProgramParameter(made, gl.LINK_STATUS)) throw new Error(gl.getProgramInfoLog(made) ?? "no shader");
    return made;
  };
  const [faces, lines] = [program(FACES), program(LINES)];
  const [faceBuffer, lineBuffer, cutBuffer] = [gl.createBuffer(), gl.createBuffer(), gl.createBuffer()];
  let [faceCount, lineCount, cutCount] = [0, 0, 0];
  let points = new Float32Array();
  let middle = [0, 0, 0];
  let length = 4000;
  /** @type {[number[], number[], number[], string, number[]]} */ let colours;

  function read() {
    const style = getComputedStyle(document.documentElement);
    const rgb = (/** @type {string} */ name) => {
      const hex = style.getPropertyValue(name).trim();
      return [1, 3, 5].map((i) => parseInt(hex.slice(i, i + 2), 16) / 255);
    };
    colours = [rgb("--plank"), rgb("--inside"), rgb("--ink"), style.getPropertyValue("--sheet").trim(), rgb("--end-grain")];
  }

  /** @param {ArrayBuffer} bytes */
  function load(bytes) {
    const view = new DataView(bytes);
    faceCount = view.getUint32(0, true) * 3;
    points = new Float32Array(bytes.slice(4, 4 + faceCount * 12));
    let place = 4 + faceCount * 12;
    const count = view.getUint32(place, true);
    place += 4;
    /** @type {number[]} */ const segments = [];
    for (let i = 0; i < count; i++) {
      const n = view.getUint32(place + 4, true);
      place += 8;
      const line = new Float32Array(bytes.slice(place, place + n * 12));
      place += n * 12;
      for (let j = 0; j + 1 < n; j++) segments.push(...line.subarray(3 * j, 3 * j + 6));
    }
    lineCount = segments.length / 3;
    const low = [Infinity, Infinity, Infinity];
    const high = [-Infinity, -Infinity, -Infinity];
    points.forEach((v, i) => {
      low[i % 3] = Math.min(low[i % 3], v);
      high[i % 3] = Math.max(high[i % 3], v);
    });
    middle = low.map((v, i) => (v + high[i]) / 2);
    length = high[0] - low[0];
    gl.bindBuffer(gl.ARRAY_BUFFER, faceBuffer);
    gl.bufferData(gl.ARRAY_BUFFER, points, gl.STATIC_DRAW);
    gl.bindBuffer(gl.ARRAY_BUFFER, lineBuffer);
    gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(segments), gl.STATIC_DRAW);
    gone();
    draw();
  }

  const place = () => cut.value === "" ? -1e9 : Number(cut.value);

  /** Where the cut goes through her faces: from each piece of it a triangle to her middle. A point is within the wood where an odd
   * number of them cover it. Two that cover all of her come first. */
  function gone() {
    const x = place() + 0.01;
    const [y, z] = [2 * length, middle[2]];
    const corner = (/** @type {number} */ a, /** @type {number} */ b) => [x, a * y, z + b * y];
    const over = [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, -1), corner(1, 1), corner(-1, 1)].flat();
    /** @type {number[]} */ const fan = [];
    for (let i = 0; i < points.length; i += 9) {
      const ends = [];
      for (let a = 0; a < 9; a += 3) {
        // From forward, so that two faces find the same place on the edge they share.
        const [p, q] = [i + a, i + ((a + 3) % 9)].sort((a, b) => points[a] - points[b]);
        const share = (x - points[p]) / (points[q] - points[p]);
        if ((points[p] < x) !== (points[q] < x)) ends.push(x, ...[1, 2].map((k) => points[p + k] + share * (points[q + k] - points[p + k])));
      }
      if (ends.length === 6) fan.push(x, 0, z, ...ends);
    }
    cutCount = fan.length / 3;
    gl.bindBuffer(gl.ARRAY_BUFFER, cutBuffer);
    gl.bufferData(gl.ARRAY_BUFFER, new Float32Array([...over, ...fan]), gl.STATIC_DRAW);
  }

  const dot = (/** @type {number[]} */ a, /** @type {number[]} */ b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const cross = (/** @type {number[]} */ a, /** @type {number[]} */ b) =>
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  const unit = (/** @type {number[]} */ a) => a.map((v) => v / Math.hypot(...a));

  /** Moves her picture to the middle of the paper, and makes it smaller where what is near you would go off it: changes `x` and `y`.
   * @param {number[]} x @param {number[]} y @param {number[]} z @param {number} near */
  function centre(x, y, z, near) {
    const [low, high] = [[Infinity, Infinity], [-Infinity, -Infinity]];
    const from = place();
    // One corner of each face is near enough; what is cut away is not there.
    for (let i = 0; i < points.length; i += 9) {
      const [px, py, pz] = [points[i], points[i + 1], points[i + 2]];
      const deep = -(z[0] * px + z[1] * py + z[2] * pz + z[3]);
      if (deep < near || px < from) continue;
      const across = (x[0] * px + x[1] * py + x[2] * pz + x[3]) / deep;
      const upward = (y[0] * px + y[1] * py + y[2] * pz + y[3]) / deep;
      low[0] = Math.min(low[0], across);
      high[0] = Math.max(high[0], across);
      low[1] = Math.min(low[1], upward);
      high[1] = Math.max(high[1], upward);
    }
    const fit = Math.min(1, ...low.map((v, k) => (2 * 0.95) / (high[k] - v)));
    [x, y].forEach((axis, k) => {
      const middle = (low[k] + high[k]) / 2;
      for (let i = 0; i < 4; i++) axis[i] = fit * (axis[i] + middle * z[i]);
    });
  }

  let waiting = false;
  function draw() {
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      if (faceCount > 0) paint();
    });
  }

  function paint() {
    const ratio = Math.min(2, devicePixelRatio || 1);
    const [width, height] = [canvas.clientWidth * ratio, canvas.clientHeight * ratio].map(Math.round);
    if (canvas.width !== width || canvas.height !== height) [canvas.width, canvas.height] = [width, height];
    const radians = (/** @type {HTMLInputElement} */ slider) => (Number(slider.value) * Math.PI) / 180;
    // To port of her, so that her bow is to the left.
    const angle = radians(turn);
    const far = Number(off.value) * length;
    const raised = Number(eye.value) - middle[2];
    const flat = Math.sqrt(Math.max(0.04 * far * far, far * far - raised * raised));
    const stand = [middle[0] + flat * Math.sin(angle), middle[1] - flat * Math.cos(angle), middle[2] + raised];
    const towards = unit(stand.map((v, i) => v - middle[i]));
    const right = unit(cross([0, 0, 1], towards));
    const up = cross(towards, right);
    // She heels about her own length, so the eye turns the other way.
    const h = radians(heel);
    const turned = (/** @type {number[]} */ a) => [a[0], a[1] * Math.cos(h) + a[2] * Math.sin(h), a[2] * Math.cos(h) - a[1] * Math.sin(h)];
    const [r, u, t] = [right, up, towards].map(turned);
    const from = turned(stand.map((v, i) => v - middle[i])).map((v, i) => v + middle[i]);
    const wide = 1.08 * length;
    const near = Math.max(0.02 * far, far - length);
    const end = far + 1.5 * length;
    const fx = (2 * far) / wide;
    const fy = (fx * width) / height;
    const a = (end + near) / (near - end);
    const b = (2 * end * near) / (near - end);
    const row = (/** @type {number[]} */ axis, /** @type {number} */ k) => [...axis.map((v) => v * k), -dot(axis, from) * k];
    const [x, y, z] = [row(r, fx), row(u, fy), row(t, 1)];
    centre(x, y, z, near);
    const m = new Float32Array(16);
    for (let i = 0; i < 4; i++) {
      m[4 * i] = x[i];
      m[4 * i + 1] = y[i];
      m[4 * i + 2] = a * z[i] + (i === 3 ? b : 0);
      m[4 * i + 3] = -z[i];
    }
    gl.viewport(0, 0, width, height);
    const paper = [1, 3, 5].map((i) => parseInt(colours[3].slice(i, i + 2), 16) / 255);
    gl.clearColor(paper[0], paper[1], paper[2], 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT | gl.STENCIL_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    /** @param {WebGLProgram} which @param {WebGLBuffer|null} buffer @param {number} bias */
    const use = (which, buffer, bias) => {
      gl.useProgram(which);
      gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
      gl.enableVertexAttribArray(0);
      gl.vertexAttribPointer(0, 3, gl.FLOAT, false, 0, 0);
      gl.uniformMatrix4fv(gl.getUniformLocation(which, "view"), false, m);
      gl.uniform1f(gl.getUniformLocation(which, "bias"), bias);
      gl.uniform1f(gl.getUniformLocation(which, "cut"), place());
    };
    const vector = (/** @type {WebGLProgram} */ which, /** @type {string} */ name, /** @type {number[]} */ v) =>
      gl.uniform3f(gl.getUniformLocation(which, name), v[0], v[1], v[2]);
    use(faces, faceBuffer, 0);
    vector(faces, "from", from);
    vector(faces, "light", unit(turned([0.25, -0.5, 0.83])));
    vector(faces, "wood", colours[0]);
    vector(faces, "inside", colours[1]);
    gl.drawArrays(gl.TRIANGLES, 0, faceCount);
    use(lines, lineBuffer, 0.0006);
    vector(lines, "ink", colours[2]);
    gl.drawArrays(gl.LINES, 0, lineCount);
    if (cutCount > 0) fill();
    said();

    function fill() {
      use(lines, cutBuffer, 0.0002);
      vector(lines, "ink", colours[4]);
      gl.enable(gl.STENCIL_TEST);
      gl.disable(gl.DEPTH_TEST);
      gl.colorMask(false, false, false, false);
      gl.stencilFunc(gl.ALWAYS, 0, 1);
      gl.stencilOp(gl.INVERT, gl.INVERT, gl.INVERT);
      gl.drawArrays(gl.TRIANGLES, 6, cutCount);
      gl.colorMask(true, true, true, true);
      gl.stencilFunc(gl.EQUAL, 1, 1);
      gl.stencilOp(gl.KEEP, gl.KEEP, gl.KEEP);
      gl.enable(gl.DEPTH_TEST);
      gl.drawArrays(gl.TRIANGLES, 0, 6);
      gl.disable(gl.STENCIL_TEST);
    }
  }

  function said() {
    const out = (/** @type {string} */ id, /** @type {string} */ text) => {
      /** @type {HTMLElement} */ (document.getElementById(`${id}-said`)).textContent = text;
    };
    out("turn", `${turn.value}°`);
    out("eye", away(Number(eye.value)));
    out("off", away(Number(off.value) * length));
    out("heel", `${heel.value}°`);
  }

  /** @param {HTMLInputElement} slider @param {number} by */
  const shift = (slider, by) => {
    let value = Number(slider.value) + by;
    if (slider === turn) value = ((((value + 180) % 360) + 360) % 360) - 180;
    slider.value = String(value);
    draw();
  };
  for (const slider of [turn, eye, off, heel]) slider.addEventListener("input", draw);
  cut.addEventListener("change", () => {
    gone();
    draw();
  });
  for (const button of document.querySelectorAll("[data-turn]")) {
    button.addEventListener("click", () => {
      turn.value = /** @type {HTMLElement} */ (button).dataset.turn ?? "0";
      draw();
    });
  }
  /** @type {Map<number, PointerEvent>} */ const down = new Map();
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    down.set(event.pointerId, event);
  });
  canvas.addEventListener("pointermove", (event) => {
    const last = down.get(event.pointerId);
    if (!last) return;
    if (down.size === 1) {
      shift(turn, (-(event.clientX - last.clientX) * 160) / canvas.clientWidth);
      shift(eye, ((event.clientY - last.clientY) * 4000) / canvas.clientHeight);
    } else {
      const other = [...down.values()].find((e) => e.pointerId !== event.pointerId);
      if (other) {
        const span = (/** @type {PointerEvent} */ e) => Math.hypot(e.clientX - other.clientX, e.clientY - other.clientY);
        off.value = String((Number(off.value) * span(last)) / Math.max(1, span(event)));
        draw();
      }
    }
    down.set(event.pointerId, event);
  });
  for (const end of ["pointerup", "pointercancel"]) {
    canvas.addEventListener(end, (event) => down.delete(/** @type {PointerEvent} */ (event).pointerId));
  }
  canvas.addEventListener("wheel", (event) => {
    event.preventDefault();
    shift(off, event.deltaY * 0.001);
  }, { passive: false });
  canvas.addEventListener("keydown", (event) => {
    const moves = /** @type {Record<string, [HTMLInputElement, number]>} */ ({
      ArrowLeft: [turn, -5], ArrowRight: [turn, 5], ArrowUp: [eye, 100], ArrowDown: [eye, -100], "+": [off, -0.1], "-": [off, 0.1],
    });
    const move = moves[event.key];
    if (!move) return;
    event.preventDefault();
    shift(move[0], move[1]);
  });
  new ResizeObserver(draw).observe(canvas);
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => {
    read();
    draw();
  });

  const fetched = () => fetch("/hull.bin").then((answer) => answer.ok ? answer.arrayBuffer() : null).then((bytes) => bytes && load(bytes)).catch(() => {});
  listeners.add((told) => {
    if (told.revision === undefined || told.revision === page.revision) return false;
    page.revision = told.revision;
    fetched();
    return true;
  });
  eye.value = canvas.dataset.eye ?? "1300";
  read();
  fetched();
}
