// Hands on the drawing: one finger or the mouse turns it, two bring it nearer, a tap points; and the keys that do the same.

const SHIFTED = 2, FAR_FOR_A_TAP = 6;

/** Let a canvas be turned by hand. `board` has the eye, `redraw`, `look` and `tap`. */
export function hands(board) {
  const down = new Map(), { canvas, stage, eye } = board;
  let far = 0, gap = 0;
  canvas.addEventListener("pointerdown", (e) => {
    canvas.setPointerCapture(e.pointerId);
    down.set(e.pointerId, [e.offsetX, e.offsetY]);
    far = down.size > 1 ? 99 : 0;
  });
  canvas.addEventListener("pointermove", (e) => {
    const before = down.get(e.pointerId);
    if (!before) return;
    const dx = e.offsetX - before[0], dy = e.offsetY - before[1], { clientWidth: wide, clientHeight: high } = stage;
    down.set(e.pointerId, [e.offsetX, e.offsetY]);
    far += Math.abs(dx) + Math.abs(dy);
    if (down.size === 2) {
      const [a, b] = [...down.values()], now = Math.hypot(a[0] - b[0], a[1] - b[1]);
      if (gap) eye.scale(now / gap);
      gap = now;
      eye.push(dx / wide, dy / high);
    } else if (e.shiftKey || e.buttons === 4) eye.push((SHIFTED * dx) / wide, (SHIFTED * dy) / high);
    else if (far > 4) eye.turn(-dx * 0.008, dy * 0.008);
    board.redraw();
  });
  const up = (e) => {
    if (down.delete(e.pointerId) && far <= FAR_FOR_A_TAP && e.type === "pointerup") board.tap(e.offsetX, e.offsetY);
    gap = 0;
  };
  canvas.addEventListener("pointerup", up);
  canvas.addEventListener("pointercancel", up);
  canvas.addEventListener("wheel", (e) => { e.preventDefault(); eye.scale(Math.exp(-e.deltaY * 0.0012)); board.redraw(); }, { passive: false });
  canvas.addEventListener("keydown", (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    const way = { ArrowLeft: [0.12, 0], ArrowRight: [-0.12, 0], ArrowUp: [0, 0.12], ArrowDown: [0, -0.12] }[e.key];
    if (way && e.shiftKey) eye.push(-way[0] / 2, -way[1] / 2);
    else if (way) eye.turn(...way);
    else if (e.key === "+" || e.key === "=") eye.scale(1.15);
    else if (e.key === "-") eye.scale(1 / 1.15);
    else if (e.key === "0") board.look("corner");
    else if (e.key === "Enter") board.tap(stage.clientWidth / 2, stage.clientHeight / 2);
    else return;
    e.preventDefault();
    board.redraw();
  });
}
