// The graphics card: bodies kept on it, and one way to draw them: three tones by the way a face looks, and ink for edges.

const CORNERS = `#version 300 es
uniform mat4 seen, at; in vec3 spot; out highp vec3 place; uniform float nearer;
void main() { vec4 p = at * vec4(spot, 1.0); place = p.xyz; gl_Position = seen * p; gl_Position.z -= nearer; }`;
const FACES = `#version 300 es
precision highp float; in highp vec3 place; uniform vec4 tint; out vec4 colour;
void main() {
  vec3 n = cross(dFdx(place), dFdy(place)), part = n * n; // to the right, then up: it looks toward the eye
  float light = dot(part, vec3(0.80, 0.88, n.z > 0.0 ? 1.0 : 0.72)) / (part.x + part.y + part.z);
  colour = vec4(tint.rgb * light, 1.0) * tint.a;
}`;
const LINES = `#version 300 es
precision mediump float; uniform vec4 tint; out vec4 colour; void main() { colour = vec4(tint.rgb, 1.0) * tint.a; }`;

/** Where there is no graphics card the processor draws, and smooth edges cost it as much as all the rest. */
const BY_THE_PROCESSOR = /swiftshader|llvmpipe|software|basic render/i;

export class Glass {
  constructor(canvas) {
    const gl = canvas.getContext("webgl2", { antialias: false, alpha: true, premultipliedAlpha: true });
    if (!gl) throw new Error("no WebGL2");
    this.gl = gl;
    const named = gl.getExtension("WEBGL_debug_renderer_info");
    this.slow = Boolean(named) && BY_THE_PROCESSOR.test(gl.getParameter(named.UNMASKED_RENDERER_WEBGL));
    this.canvas = canvas;
    this.bodies = new Map();
    this.faces = program(gl, CORNERS, FACES);
    this.lines = program(gl, CORNERS, LINES);
    this.picked = null;
    this.smooth = null;
  }

  has(mark) { return this.bodies.has(mark); }

  /** Take bodies in from bytes (see meshes.py). */
  take(buffer) {
    const gl = this.gl;
    const long = new DataView(buffer).getUint32(0, true);
    const heading = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 4, long)));
    let at = 4 + long;
    const next = (Type, count) => { const found = new Type(buffer, at, count); at += count * 4; return found; };
    for (const one of heading.bodies) {
      const corners = next(Float32Array, one.corners * 3);
      const triangles = next(Uint32Array, one.triangles * 3);
      const edges = next(Uint32Array, one.edges * 2);
      if (this.bodies.has(one.body)) continue;
      const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
      for (let i = 0; i < corners.length; i++) {
        const axis = i % 3;
        if (corners[i] < low[axis]) low[axis] = corners[i];
        if (corners[i] > high[axis]) high[axis] = corners[i];
      }
      const array = gl.createVertexArray();
      gl.bindVertexArray(array);
      gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
      gl.bufferData(gl.ARRAY_BUFFER, corners, gl.STATIC_DRAW);
      gl.enableVertexAttribArray(0);
      gl.vertexAttribPointer(0, 3, gl.FLOAT, false, 0, 0);
      const faces = gl.createBuffer(), lines = gl.createBuffer();
      gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, faces);
      gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, triangles, gl.STATIC_DRAW);
      gl.bindVertexArray(null);
      gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, lines);
      gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, edges, gl.STATIC_DRAW);
      this.bodies.set(one.body, { array, faces, lines, triangles: triangles.length, edges: edges.length, low, high });
    }
  }

  /** Draw things: {body, at, tint: [r, g, b, a], ink: [r, g, b, a]}; `fine`: with smooth edges, which takes longer. */
  draw(things, seen, fine) {
    const gl = this.gl, { width, height } = this.canvas;
    gl.bindFramebuffer(gl.FRAMEBUFFER, fine ? this.#smoothed(width, height) : null);
    this.#all(things, seen);
    if (!fine) return;
    gl.bindFramebuffer(gl.READ_FRAMEBUFFER, this.smooth.frame);
    gl.bindFramebuffer(gl.DRAW_FRAMEBUFFER, null);
    gl.blitFramebuffer(0, 0, width, height, 0, 0, width, height, gl.COLOR_BUFFER_BIT, gl.NEAREST);
  }

  /** A frame of four samples for each spot. */
  #smoothed(width, height) {
    const gl = this.gl;
    if (this.smooth?.width === width && this.smooth.height === height) return this.smooth.frame;
    for (const old of this.smooth?.buffers ?? []) gl.deleteRenderbuffer(old);
    const frame = this.smooth?.frame ?? gl.createFramebuffer();
    gl.bindFramebuffer(gl.FRAMEBUFFER, frame);
    const buffers = [[gl.RGBA8, gl.COLOR_ATTACHMENT0], [gl.DEPTH_COMPONENT24, gl.DEPTH_ATTACHMENT]].map(([format, place]) => {
      const buffer = gl.createRenderbuffer();
      gl.bindRenderbuffer(gl.RENDERBUFFER, buffer);
      gl.renderbufferStorageMultisample(gl.RENDERBUFFER, 4, format, width, height);
      gl.framebufferRenderbuffer(gl.FRAMEBUFFER, place, gl.RENDERBUFFER, buffer);
      return buffer;
    });
    this.smooth = { frame, buffers, width, height };
    return frame;
  }

  /** The see-through ones last. */
  #all(things, seen) {
    const gl = this.gl;
    gl.viewport(0, 0, this.canvas.width, this.canvas.height);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    gl.disable(gl.BLEND);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    const solid = things.filter((one) => one.tint[3] >= 1 && one.kind !== "meeting"), faint = things.filter((one) => one.tint[3] < 1);
    gl.enable(gl.POLYGON_OFFSET_FILL);
    gl.polygonOffset(1, 1);
    gl.enable(gl.CULL_FACE); // the far side of a solid thing is never seen
    this.#faces(solid, seen);
    gl.disable(gl.CULL_FACE);
    gl.disable(gl.POLYGON_OFFSET_FILL);
    this.#edges(solid, seen, 0.0006);
    gl.enable(gl.BLEND);
    gl.depthMask(false);
    this.#faces(faint.filter((one) => one.tint[3] > 0), seen);
    this.#edges(faint, seen, 0.0002);
    gl.depthMask(true);
    const through = things.filter((one) => one.kind === "meeting"); // seen through whatever stands before it
    if (!through.length) return;
    gl.disable(gl.DEPTH_TEST);
    this.#faces(through, seen);
    this.#edges(through, seen, 0);
  }

  #faces(things, seen) {
    const gl = this.gl, use = this.faces;
    gl.useProgram(use.program);
    gl.uniformMatrix4fv(use.seen, false, seen);
    gl.uniform1f(use.nearer, 0);
    for (const one of things) {
      const body = this.bodies.get(one.body);
      if (!body) continue;
      gl.frontFace(isMirrored(one.at) ? gl.CW : gl.CCW);
      gl.uniformMatrix4fv(use.at, false, one.at);
      gl.uniform4fv(use.tint, one.tint);
      gl.bindVertexArray(body.array);
      gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, body.faces);
      gl.drawElements(gl.TRIANGLES, body.triangles, gl.UNSIGNED_INT, 0);
    }
  }

  #edges(things, seen, nearer) {
    const gl = this.gl, use = this.lines;
    gl.useProgram(use.program);
    gl.uniformMatrix4fv(use.seen, false, seen);
    gl.uniform1f(use.nearer, nearer);
    for (const one of things) {
      const body = this.bodies.get(one.body);
      if (!body || !one.ink) continue;
      gl.uniformMatrix4fv(use.at, false, one.at);
      gl.uniform4fv(use.tint, one.ink);
      gl.bindVertexArray(body.array);
      gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, body.lines);
      gl.drawElements(gl.LINES, body.edges, gl.UNSIGNED_INT, 0);
    }
    gl.bindVertexArray(null);
  }

  /** Which of some things is seen at a spot of the canvas (own pixels); -1 for none. */
  pick(things, seen, x, y) {
    const gl = this.gl;
    const { width, height } = this.canvas;
    if (!this.picked || this.picked.width !== width || this.picked.height !== height) {
      const texture = gl.createTexture(), depth = gl.createRenderbuffer(), frame = gl.createFramebuffer();
      gl.bindTexture(gl.TEXTURE_2D, texture);
      gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA8, width, height, 0, gl.RGBA, gl.UNSIGNED_BYTE, null);
      gl.bindRenderbuffer(gl.RENDERBUFFER, depth);
      gl.renderbufferStorage(gl.RENDERBUFFER, gl.DEPTH_COMPONENT24, width, height);
      gl.bindFramebuffer(gl.FRAMEBUFFER, frame);
      gl.framebufferTexture2D(gl.FRAMEBUFFER, gl.COLOR_ATTACHMENT0, gl.TEXTURE_2D, texture, 0);
      gl.framebufferRenderbuffer(gl.FRAMEBUFFER, gl.DEPTH_ATTACHMENT, gl.RENDERBUFFER, depth);
      this.picked = { frame, width, height };
    }
    gl.bindFramebuffer(gl.FRAMEBUFFER, this.picked.frame);
    gl.viewport(0, 0, width, height);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.disable(gl.BLEND);
    gl.enable(gl.DEPTH_TEST);
    const use = this.lines;
    gl.useProgram(use.program);
    gl.uniformMatrix4fv(use.seen, false, seen);
    gl.uniform1f(use.nearer, 0);
    things.forEach((one, i) => {
      const body = this.bodies.get(one.body);
      if (!body) return;
      const id = i + 1;
      gl.uniformMatrix4fv(use.at, false, one.at);
      gl.uniform4f(use.tint, (id & 255) / 255, ((id >> 8) & 255) / 255, ((id >> 16) & 255) / 255, 1);
      gl.bindVertexArray(body.array);
      gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, body.faces);
      gl.drawElements(gl.TRIANGLES, body.triangles, gl.UNSIGNED_INT, 0);
    });
    const out = new Uint8Array(4);
    gl.readPixels(Math.round(x), Math.round(height - y), 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, out);
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    return out[0] + (out[1] << 8) + (out[2] << 16) - 1;
  }
}

/** Whether a place turns a right-handed thing into a left-handed one. */
function isMirrored(m) {
  return m[0] * (m[5] * m[10] - m[6] * m[9]) - m[4] * (m[1] * m[10] - m[2] * m[9]) + m[8] * (m[1] * m[6] - m[2] * m[5]) < 0;
}

function program(gl, corners, colours) {
  const made = gl.createProgram();
  for (const [kind, text] of [[gl.VERTEX_SHADER, corners], [gl.FRAGMENT_SHADER, colours]]) {
    const shader = gl.createShader(kind);
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    gl.attachShader(made, shader);
  }
  gl.bindAttribLocation(made, 0, "spot");
  gl.linkProgram(made);
  if (!gl.getProgramParameter(made, gl.LINK_STATUS)) throw new Error(gl.getProgramInfoLog(made) ?? "no program");
  const found = (name) => gl.getUniformLocation(made, name);
  return { program: made, seen: found("seen"), at: found("at"), tint: found("tint"), nearer: found("nearer") };
}
