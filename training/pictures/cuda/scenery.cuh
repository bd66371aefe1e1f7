// Light, shadow, ground, walls, sky, trees; sticks, nets and blocks drawn over them.

INNER float shadow(const float* row, const Cell* light, int side, Vec at, float bias) {
  Vec seen = in_light(row, at, side);
  float x = seen.x - .5f, y = seen.y - .5f, sum = 0;
  int ix = (int)floorf(x), iy = (int)floorf(y);
  if (ix < 0 || iy < 0 || ix >= side - 1 || iy >= side - 1) return 0;
  for (int k = 0; k < 4; k++) {
    int a = k & 1, c = k >> 1;
    Bits b;
    b.bits = (uint32_t)(light[(long long)(iy + c) * side + ix + a] >> 32);
    bool hides = b.bits != 0xFFFFFFFFU && b.number < seen.z - bias;
    sum += hides ? (a ? x - ix : 1 - x + ix) * (c ? y - iy : 1 - y + iy) : 0;
  }
  return sum;
}
INNER Vec lit(const float* row, Vec normal, float shade) {
  float facing = fmaxf(0, dot(normal, load(row + ROW_LIGHT_AXES + 6)));
  Vec around = mix(load(row + ROW_BOUNCE), load(row + ROW_AMBIENT), .5f + .5f * normal.z);
  return around + load(row + ROW_SUN) * (facing * (1 - shade));
}
INNER Vec whole_light(const float* row, float sun) {
  return load(row + ROW_AMBIENT) + load(row + ROW_SUN) * sun;
}
INNER Vec eye(const float* row) {
  return times_transposed(row + ROW_ROTATION, load(row + ROW_TRANSLATION)) * -1.f;
}

INNER Vec abstract(const float* row, float u, float v) {  // no place at all: noise in the picture
  float step = row[ROW_GROUND_SCALE] * .02f, period = row[ROW_STRIPES], share = row[ROW_STRIPES + 1];
  float n = layered(vec(u * step, v * step, row[ROW_SEED]), 5);
  Vec colour = mix(load(row + ROW_GROUND_A), load(row + ROW_GROUND_B),
                   between((n - .5f) * 2.5f + .5f, 0, 1));
  if (period > 0) {
    float turn = row[ROW_STRIPES + 2];
    float wave = sinf((u * cosf(turn) + v * sinf(turn)) * period + 4 * n * share);
    colour = mix(colour, load(row + ROW_HORIZON), wave > 0 ? share : 0);
  }
  return colour * whole_light(row, .5f);
}
INNER bool inside(const float* box, Vec at, float margin) {
  return at.x > box[0] - margin && at.x < box[1] + margin && at.y > box[2] - margin &&
         at.y < box[3] + margin;
}
INNER Vec ground(const float* row, const Cell* light, int side, Vec at, float far) {
  float seed = row[ROW_SEED], scale = row[ROW_GROUND_SCALE], contrast = row[ROW_GROUND_CONTRAST];
  float n = layered(vec(at.x * scale, at.y * scale, seed), far < 12 ? 5 : 3);
  float wide = layered(vec(at.x * .35f, at.y * .35f, seed + 7), 2) - .5f;
  float fine = far < 9 ? noise(vec(at.x * 90, at.y * 90, seed)) - .5f : 0;
  Vec colour = mix(load(row + ROW_GROUND_A), load(row + ROW_GROUND_B),
                   between((n - .5f) * 2.f * contrast + .5f, 0, 1));
  colour = colour * (1 + .6f * wide + contrast * .9f * fine);
  if (row[ROW_STRIPES] > 0) {
    float turn = row[ROW_STRIPES + 2];
    float along = (at.x * cosf(turn) + at.y * sinf(turn)) / row[ROW_STRIPES];
    if (((int)floorf(along)) & 1) colour = colour * (1 - row[ROW_STRIPES + 1]);
  }
  if (row[ROW_MAT_ON] > .5f) {
    if (inside(row + ROW_SLAB, at, 0))
      colour = load(row + ROW_SLAB_COLOUR) * (1 + .35f * (n - .5f) + .15f * fine);
    if (inside(row + ROW_MAT, at, .07f)) colour = load(row + ROW_RUBBER);
    if (inside(row + ROW_MAT, at, 0))
      colour = load(row + ROW_MAT_COLOUR) * (1 + .4f * (n - .5f) + .5f * fine);
  }
  float depth = row[ROW_SHADOW];
  colour = colour * lit(row, vec(0, 0, 1), shadow(row, light, side, at, .01f) * depth);
  float r2 = at.x * at.x + (at.y - .5f) * (at.y - .5f);
  colour = colour * (1 - .175f * depth * expf(-r2 * 6.f));  // less sky under the golfer
  return mix(colour, load(row + ROW_HORIZON) * load(row + ROW_AMBIENT), 1 - expf(-far * .006f));
}
INNER Vec wall(const float* row, float along, float height) {
  float n = layered(vec(along * 1.3f, height * 1.3f, row[ROW_SEED]), 4);
  Vec colour = load(row + ROW_WALL_COLOUR) * (1 + .3f * (n - .5f));
  float panel = along / row[ROW_PANEL];
  if (panel - floorf(panel) < .03f) colour = colour * (1 - row[ROW_PANEL + 1]);
  if (height > 3.0f) colour = vec(.6f, .6f, .58f);
  if (height < .1f) colour = colour * .6f;
  return colour * whole_light(row, .25f);
}
INNER Vec sky(const float* row, Vec ray) {
  float seed = row[ROW_SEED], turn = atan2f(ray.y, ray.x);
  float hill = row[ROW_HILLS] * (.06f + .05f * layered(vec(turn * 3 + seed, 1, seed), 3));
  if (ray.z < hill)
    return load(row + ROW_GROUND_A) * whole_light(row, .5f) *
           (.85f + .3f * layered(vec(turn * 30, ray.z * 60, seed), 2));
  Vec colour = mix(load(row + ROW_HORIZON), load(row + ROW_ZENITH), between(ray.z / .55f, 0, 1));
  float n = layered(vec(ray.x * 3.2f + seed, ray.y * 3.2f, ray.z * 11.f), 5);
  colour = mix(colour, vec(.92f, .93f, .95f), between((n - .5f) * 4.5f, 0, 1) * row[ROW_CLOUDS]);
  return colour * load(row + ROW_AMBIENT) * 1.3f;
}
INNER Vec trees(const float* row, Vec from, Vec ray, float far, Vec colour) {
  for (int i = 0; i < (int)row[ROW_TREE_COUNT]; i++) {
    const float* tree = row + ROW_TREES + 7 * i;
    Vec to = load(tree) - from;
    float along = dot(to, ray), radius = tree[3], off2 = dot(to, to) - along * along;
    if (along < 0 || along > far || off2 > radius * radius * 1.5f) continue;
    Vec at = from + ray * along;
    float n = layered(at * (2.2f / radius) + vec(row[ROW_SEED], 0, 0), 3);
    float edge = radius * (.65f + .7f * n), inner2 = edge * edge - off2;
    if (inner2 < 0) continue;
    Vec normal = unit(at - ray * sqrtf(inner2) - load(tree));
    far = along;
    colour = load(tree + 4) * (.6f + .8f * n) * lit(row, normal, 0);
  }
  return colour;
}
INNER Vec background(const float* row, const Cell* light, int side, float u, float v) {
  if (row[ROW_ABSTRACT] > .5f) return abstract(row, u, v);
  float x = (u - row[ROW_CENTRE]) / row[ROW_FOCAL], y = (v - row[ROW_CENTRE + 1]) / row[ROW_FOCAL];
  Vec ray = unit(times_transposed(row + ROW_ROTATION, vec(x, y, 1))), from = eye(row);
  float far = ray.z < -1e-4f ? fminf(-from.z / ray.z, 120.f) : 120.f;
  int hit = far < 120.f ? 1 : 0;
  float c = row[ROW_WALL_TURN], s = row[ROW_WALL_TURN + 1];  // walls stand square to the view
  float rx = c * ray.x + s * ray.y, ry = -s * ray.x + c * ray.y;
  float ox = c * from.x + s * from.y, oy = -s * from.x + c * from.y;
  if (row[ROW_WALL_ON] > .5f) {
    float ty = ry > 1e-4f ? (row[ROW_WALL] - oy) / ry : -1;
    float tx = rx > 1e-4f ? (row[ROW_WALL + 1] - ox) / rx : -1;
    if (ty > 0 && ty < far) { far = ty; hit = 2; }
    if (tx > 0 && tx < far) { far = tx; hit = 3; }
  }
  Vec at = from + ray * far, colour;
  if (hit == 1) colour = ground(row, light, side, at, far);
  else if (hit == 0) colour = sky(row, ray);
  else colour = wall(row, hit == 2 ? ox + rx * far : oy + ry * far, at.z);
  return trees(row, from, ray, hit == 0 ? 1e9f : far, colour);
}

INNER Vec blocks(const float* row, float u, float v, bool front, Vec colour) {
  for (int i = 0; i < BLOCKS; i++) {
    const float* q = row + ROW_BLOCKS + 9 * i;
    if ((q[8] > .5f) != front) continue;
    float c = cosf(q[4]), s = sinf(q[4]);
    float x = (u - q[0]) * c + (v - q[1]) * s, y = -(u - q[0]) * s + (v - q[1]) * c;
    if (fabsf(x) < q[2] && fabsf(y) < q[3])
      colour = load(q + 5) * (.85f + .3f * noise(vec(x * .15f, y * .15f, row[ROW_SEED])));
  }
  return colour;
}
INNER Vec lines(const float* row, float u, float v, bool front, Vec colour) {
  for (int i = 0; i < LINES; i++) {
    const float* q = row + ROW_LINES + 9 * i;
    float radius = q[4];
    if (radius <= 0 || (q[8] > .5f) != front) continue;
    float dx = q[2] - q[0], dy = q[3] - q[1];
    float t = ((u - q[0]) * dx + (v - q[1]) * dy) / (dx * dx + dy * dy + 1e-6f);
    t = between(t, 0, 1);
    float ex = u - q[0] - t * dx, ey = v - q[1] - t * dy, off = sqrtf(ex * ex + ey * ey);
    float cover = between(radius + .5f - off, 0, 1) * between(radius * 2, .15f, 1);
    float round = radius > .8f ? 1 - .35f * fabsf(off / radius) : 1;
    colour = mix(colour, load(q + 5) * round, cover);
  }
  return colour;
}
INNER Vec overlay(const float* row, float u, float v, bool front, Vec colour) {
  return lines(row, u, v, front, blocks(row, u, v, front, colour));
}
