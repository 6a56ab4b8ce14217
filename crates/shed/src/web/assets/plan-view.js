// A picture that is looked at near and far, with a cross that is aimed under a glass. Knows nothing of boats.

/** @typedef {[number, number]} Pixel Of the picture: to the right and down. */
/** @typedef {{draw: (pen: CanvasRenderingContext2D, at: (p: Pixel) => Pixel) => void, pick: (p: Pixel) => void, nudge: (by: Pixel) => boolean, enter: (p: Pixel) => void, aim: () => boolean}} Does */

/** Pixels of the screen to one of the picture in the glass, and at most. */
const GLASS = 9;
const NEAREST = 40;
/** Pictures that have more pixels across than this are drawn from a smaller copy from afar. */
const LARGE = 4096;
/** How far an arrow key moves, pixels of the picture; and with Shift. */
const STEP = 0.5;
const STRIDE = 10;

/** @param {HTMLCanvasElement} canvas @param {HTMLCanvasElement} glass @param {Does} does */
export function view(canvas, glass, does) {
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  const glassPen = /** @type {CanvasRenderingContext2D} */ (glass.getContext("2d"));
  /** @type {ImageBitmap|null} */ let picture = null;
  /** @type {ImageBitmap|null} */ let small = null;
  let [scale, left, top] = [1, 0, 0];
  /** @type {Pixel} */ let cross = [0, 0];
  let moving = false;
  let waiting = false;

  /** @param {Pixel} p @returns {Pixel} */
  const onScreen = (p) => [(p[0] - left) * scale, (p[1] - top) * scale];
  /** @param {PointerEvent|WheelEvent} event @returns {Pixel} */
  const spot = (event) => {
    const box = canvas.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  /** @param {Pixel} s @returns {Pixel} */
  const inPicture = ([x, y]) => [x / scale + left, y / scale + top];
  /** @param {Pixel} p @returns {Pixel} */
  const within = ([x, y]) => (picture ? [Math.min(Math.max(x, 0), picture.width), Math.min(Math.max(y, 0), picture.height)] : [x, y]);

  function redraw() {
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      paint();
    });
  }

  function paint() {
    const [wide, high, dots] = [canvas.clientWidth, canvas.clientHeight, devicePixelRatio || 1];
    if (canvas.width !== Math.round(wide * dots) || canvas.height !== Math.round(high * dots)) {
      [canvas.width, canvas.height] = [Math.round(wide * dots), Math.round(high * dots)];
    }
    pen.setTransform(dots, 0, 0, dots, 0, 0);
    pen.clearRect(0, 0, wide, high);
    if (!picture) return;
    pen.imageSmoothingEnabled = scale < 3;
    pen.imageSmoothingQuality = "high";
    const from = small && scale * picture.width < small.width ? small : picture;
    const [x, y] = onScreen([0, 0]);
    pen.drawImage(from, x, y, picture.width * scale, picture.height * scale);
    does.draw(pen, onScreen);
    if (document.activeElement === canvas || !glass.hidden) hair(pen, onScreen(cross), 14);
    if (!glass.hidden) paintGlass();
  }

  /** @param {CanvasRenderingContext2D} on @param {Pixel} at @param {number} size */
  function hair(on, [x, y], size) {
    for (const [colour, wide] of /** @type {[string, number][]} */ ([["#fffdf8", 3], ["#9a4a20", 1]])) {
      on.strokeStyle = colour;
      on.lineWidth = wide;
      on.beginPath();
      on.moveTo(x - size, y);
      on.lineTo(x + size, y);
      on.moveTo(x, y - size);
      on.lineTo(x, y + size);
      on.stroke();
    }
  }

  function paintGlass() {
    if (!picture) return;
    const side = glass.width;
    const times = Math.max(GLASS, 2 * scale);
    const across = side / times;
    glassPen.fillStyle = "#d8cfc0";
    glassPen.fillRect(0, 0, side, side);
    glassPen.imageSmoothingEnabled = false;
    glassPen.drawImage(picture, cross[0] - across / 2, cross[1] - across / 2, across, across, 0, 0, side, side);
    hair(glassPen, [side / 2, side / 2], side / 2);
  }

  /** Shows the glass where the hand is not. @param {Pixel} s */
  function lift(s) {
    glass.hidden = false;
    glass.classList.toggle("right", s[0] < canvas.clientWidth / 2);
  }

  /** @param {number} by @param {Pixel} about */
  function zoom(by, about = [canvas.clientWidth / 2, canvas.clientHeight / 2]) {
    const still = inPicture(about);
    scale = Math.min(Math.max(scale * by, 0.5 * fits()), NEAREST);
    [left, top] = [still[0] - about[0] / scale, still[1] - about[1] / scale];
    redraw();
  }

  const fits = () => (picture ? Math.min(canvas.clientWidth / picture.width, canvas.clientHeight / picture.height) : 1);

  function whole() {
    if (!picture) return;
    scale = fits();
    [left, top] = [(picture.width - canvas.clientWidth / scale) / 2, (picture.height - canvas.clientHeight / scale) / 2];
    redraw();
  }

  /** @type {Map<number, Pixel>} */ const down = new Map();
  /** @type {"pick"|"pan"|null} */ let doing = null;
  canvas.addEventListener("pointerdown", (event) => {
    if (!picture) return;
    canvas.focus({ preventScroll: true });
    event.preventDefault();
    canvas.setPointerCapture(event.pointerId);
    down.set(event.pointerId, spot(event));
    const pans = moving || event.button === 1 || down.size > 1 || !does.aim();
    doing = pans ? "pan" : "pick";
    if (doing === "pick") {
      cross = within(inPicture(spot(event)));
      lift(spot(event));
    } else glass.hidden = true;
    redraw();
  });
  canvas.addEventListener("pointermove", (event) => {
    const was = down.get(event.pointerId);
    if (!was || !picture) return;
    const now = spot(event);
    if (doing === "pick") {
      cross = within(inPicture(now));
      lift(now);
    } else if (doing === "pan") {
      const other = [...down.entries()].find(([id]) => id !== event.pointerId)?.[1];
      if (other) {
        const far = (/** @type {Pixel} */ p) => Math.max(Math.hypot(p[0] - other[0], p[1] - other[1]), 1);
        zoom(far(now) / far(was), [(now[0] + other[0]) / 2, (now[1] + other[1]) / 2]);
      }
      const part = other ? 0.5 : 1;
      left -= ((now[0] - was[0]) / scale) * part;
      top -= ((now[1] - was[1]) / scale) * part;
    }
    down.set(event.pointerId, now);
    redraw();
  });
  /** @param {PointerEvent} event */
  function up(event) {
    if (!down.delete(event.pointerId)) return;
    if (doing === "pick" && event.type === "pointerup") does.pick([...cross]);
    if (down.size === 0) doing = null;
    glass.hidden = true;
    redraw();
  }
  canvas.addEventListener("pointerup", up);
  canvas.addEventListener("pointercancel", up);
  canvas.addEventListener("wheel", (event) => {
    if (!picture) return;
    event.preventDefault();
    zoom(Math.exp(-event.deltaY * 0.0015), spot(event));
  }, { passive: false });
  /** @type {Record<string, Pixel>} */
  const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  canvas.addEventListener("keydown", (event) => {
    if (!picture || event.ctrlKey || event.metaKey) return;
    const way = ways[event.key];
    if (way) {
      const far = event.shiftKey ? STRIDE : STEP;
      /** @type {Pixel} */ const by = [way[0] * far, way[1] * far];
      does.nudge(by);
      cross = within([cross[0] + by[0], cross[1] + by[1]]);
      follow();
      lift(onScreen(cross));
    } else if (event.key === "Enter") {
      does.enter([...cross]);
    } else if (event.key === "+" || event.key === "=") zoom(1.5, onScreen(cross));
    else if (event.key === "-") zoom(1 / 1.5, onScreen(cross));
    else return;
    event.preventDefault();
    redraw();
  });
  /** Keeps the cross on the sheet. */
  function follow() {
    const [x, y] = onScreen(cross);
    const [wide, high] = [canvas.clientWidth, canvas.clientHeight];
    if (x < 0 || x > wide) left = cross[0] - wide / 2 / scale;
    if (y < 0 || y > high) top = cross[1] - high / 2 / scale;
  }
  canvas.addEventListener("blur", () => {
    glass.hidden = true;
    redraw();
  });
  canvas.addEventListener("focus", redraw);
  new ResizeObserver(redraw).observe(canvas);

  return {
    redraw, whole, zoom,
    /** @param {boolean} on */
    move: (on) => (moving = on),
    /** @param {Pixel} p Where the cross goes. */
    aimAt: (p) => (cross = [...p]),
    /** @param {ImageBitmap|null} shown */
    async show(shown) {
      [picture, small] = [shown, null];
      if (shown && shown.width > LARGE) small = await createImageBitmap(shown, { resizeWidth: LARGE / 2, resizeQuality: "high" });
      if (shown) cross = [shown.width / 2, shown.height / 2];
      whole();
      redraw();
    },
  };
}
