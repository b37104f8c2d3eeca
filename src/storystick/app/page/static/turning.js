// The eye: where it stands, what it sees. Columns of 4x4 matrices one after another, as the graphics card wants them.

export const VIEWS = {
  corner: [-0.62, 0.5],
  front: [0, 0],
  right: [Math.PI / 2, 0],
  left: [-Math.PI / 2, 0],
  back: [Math.PI, 0],
  above: [0, Math.PI / 2 - 0.001],
};

export class Eye {
  constructor() {
    [this.yaw, this.pitch] = VIEWS.corner;
    this.middle = [0, 0, 0];
    this.radius = 1000;
    this.zoom = 1;
    this.wider = 1;
    this.shift = [0, 0];
  }

  /** Look at a box so that all of it is seen. */
  hold(low, high) {
    this.middle = low.map((v, i) => (v + high[i]) / 2);
    this.radius = Math.max(50, Math.hypot(...low.map((v, i) => high[i] - v)) / 2);
  }

  turn(dx, dy) {
    this.yaw += dx;
    this.pitch = Math.max(-Math.PI / 2 + 0.001, Math.min(Math.PI / 2 - 0.001, this.pitch + dy));
  }

  /** Shift the picture: shares of its width and height. */
  push(dx, dy) { this.shift[0] += dx; this.shift[1] -= dy; }

  scale(by) { this.zoom = Math.max(0.3, Math.min(12, this.zoom * by)); }

  /** Three directions at right angles: right, up, toward the eye. Yaw 0 looks from the front; positive yaw from the right. */
  axes() {
    const cy = Math.cos(this.yaw), sy = Math.sin(this.yaw), cp = Math.cos(this.pitch), sp = Math.sin(this.pitch);
    const toward = [sy * cp, -cy * cp, sp];
    const right = [cy, sy, 0];
    const up = [-sy * sp, cy * sp, cp];
    return { right, up, toward };
  }

  /** From the room to the picture, for a canvas of some shape. */
  matrix(wide, high) {
    const { right, up, toward } = this.axes();
    const half = (this.radius * 1.06 * this.wider) / this.zoom;
    const sx = (wide > high ? high / wide : 1) / half, sy = (wide > high ? 1 : wide / high) / half;
    const sz = -1 / Math.max(this.radius * 4, 6000);
    const m = this.middle;
    const along = (way) => way[0] * m[0] + way[1] * m[1] + way[2] * m[2];
    return new Float32Array([
      right[0] * sx, up[0] * sy, toward[0] * sz, 0,
      right[1] * sx, up[1] * sy, toward[1] * sz, 0,
      right[2] * sx, up[2] * sy, toward[2] * sz, 0,
      -along(right) * sx + this.shift[0], -along(up) * sy + this.shift[1], -along(toward) * sz, 1,
    ]);
  }
}

/** A pose of twelve numbers, moved and perhaps swung, as a matrix. */
export function placed(pose, by = [0, 0, 0], swing = null) {
  const m = [pose[0], pose[1], pose[2], 0, pose[3], pose[4], pose[5], 0, pose[6], pose[7], pose[8], 0, pose[9], pose[10], pose[11], 1];
  if (swing) turnAbout(m, swing);
  m[12] += by[0]; m[13] += by[1]; m[14] += by[2];
  return new Float32Array(m);
}

function turnAbout(m, { about, axis, degrees }) {
  const a = (degrees * Math.PI) / 180, c = Math.cos(a), s = Math.sin(a);
  const i = (axis + 1) % 3, j = (axis + 2) % 3;
  for (let column = 0; column < 4; column++) {
    const at = column * 4, off = column === 3 ? 1 : 0;
    const p = m[at + i] - off * about[i], q = m[at + j] - off * about[j];
    m[at + i] = c * p - s * q + off * about[i];
    m[at + j] = s * p + c * q + off * about[j];
  }
}

export const HERE = [1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0];

/** A point of the room on a canvas of some size, in its own pixels; the third number is how near it is. */
export function onCanvas(matrix, point, wide, high) {
  const at = (row) => matrix[row] * point[0] + matrix[4 + row] * point[1] + matrix[8 + row] * point[2] + matrix[12 + row];
  return [((at(0) + 1) / 2) * wide, ((1 - at(1)) / 2) * high, -at(2)];
}
