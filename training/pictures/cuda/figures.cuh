// From the vertices of the figures to depth buffers: of the camera and of the light.

INNER Vec swollen(const float* figure, Vec at, Vec normal, int swells) {
  float most = swells == 1 ? figure[FIGURE_SWELL_UPPER] : figure[FIGURE_SWELL_LOWER];
  if (swells == 0 || most <= 0) return at;
  float first = sinf(dot(at, load(figure + FIGURE_WAVE_A)) + figure[FIGURE_PHASE_A]);
  float second = sinf(dot(at, load(figure + FIGURE_WAVE_B)) + figure[FIGURE_PHASE_B]);
  return at + normal * (most * (.5f + .25f * first + .25f * second));
}
INNER Vec placed(const float* figure, Vec at) {  // scaled, turned about the plumb, moved
  at = at * load(figure + FIGURE_SCALE);
  float c = figure[FIGURE_TURN], s = figure[FIGURE_TURN + 1];
  return vec(c * at.x - s * at.y + figure[FIGURE_PLACE],
             s * at.x + c * at.y + figure[FIGURE_PLACE + 1], at.z);
}
INNER Vec turned(const float* figure, Vec normal) {
  float c = figure[FIGURE_TURN], s = figure[FIGURE_TURN + 1];
  return vec(c * normal.x - s * normal.y, s * normal.x + c * normal.y, normal.z);
}
INNER Vec in_light(const float* row, Vec at, int side) {  // pixels and depth of the light's view
  Vec seen = times(row + ROW_LIGHT_AXES, at - load(row + ROW_LIGHT_ORIGIN));
  float step = side / row[ROW_LIGHT_SPAN];
  return vec(seen.x * step + .5f * side, seen.y * step + .5f * side, 10.f - seen.z);
}

// one thread a vertex (x) of a figure (y): where camera and light see it
KERNEL place(const float* rows, const float* figures, const int* who, const int* spans,
             const int16_t* vertices, const int8_t* normals, const uint8_t* vertex_class,
             const int* swells, float* on_camera, float* on_light, int most_vertices,
             int samples, int light_side) {
  int f = blockIdx.y, i = blockIdx.x * blockDim.x + threadIdx.x;
  int golfer = who[f * 3], first = spans[golfer * 4];
  if (i >= spans[golfer * 4 + 1]) return;
  const float* row = rows + who[f * 3 + 1] * ROW_LENGTH;
  const float* figure = figures + f * FIGURE_LENGTH;
  const int16_t* q = vertices + (long long)(first + i) * 3;
  const int8_t* n = normals + (long long)(first + i) * 3;
  Vec at = vec(q[0], q[1], q[2]) * VERTEX_STEP, normal = vec(n[0], n[1], n[2]) * NORMAL_STEP;
  at = placed(figure, swollen(figure, at, normal, swells[vertex_class[first + i]]));
  Vec seen = times(row + ROW_ROTATION, at) + load(row + ROW_TRANSLATION);
  float x = seen.x / seen.z, y = seen.y / seen.z, r2 = x * x + y * y;
  float lens = 1 + row[ROW_DISTORTION] * r2 + row[ROW_DISTORTION + 1] * r2 * r2;
  float* out = on_camera + ((long long)f * most_vertices + i) * 3;
  out[0] = (row[ROW_FOCAL] * x * lens + row[ROW_CENTRE]) * samples;
  out[1] = (row[ROW_FOCAL] * y * lens + row[ROW_CENTRE + 1]) * samples;
  out[2] = seen.z;
  Vec lit = in_light(row, at, light_side);
  float* shade = on_light + ((long long)f * most_vertices + i) * 3;
  shade[0] = lit.x; shade[1] = lit.y; shade[2] = lit.z;
}

INNER float cross(const float* a, const float* b, float x, float y) {
  return (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]);
}

// one thread a face (x) of a figure (y): nearest depth in every cell it covers
KERNEL fill(const int* who, const int* spans, const int32_t* faces, const float* seen, Cell* cells,
            int most_vertices, int width, int height, int perspective) {
  int f = blockIdx.y, i = blockIdx.x * blockDim.x + threadIdx.x;
  int golfer = who[f * 3], first = spans[golfer * 4 + 2];
  if (i >= spans[golfer * 4 + 3]) return;
  const int32_t* face = faces + (long long)(first + i) * 3;
  const float* s = seen + (long long)f * most_vertices * 3;
  const float *A = s + face[0] * 3, *B = s + face[1] * 3, *C = s + face[2] * 3;
  if (A[2] < .05f || B[2] < .05f || C[2] < .05f) return;
  float left = fminf(A[0], fminf(B[0], C[0])), right = fmaxf(A[0], fmaxf(B[0], C[0]));
  float top = fminf(A[1], fminf(B[1], C[1])), bottom = fmaxf(A[1], fmaxf(B[1], C[1]));
  if (!(right > 0 && bottom > 0 && left < width && top < height)) return;
  int x0 = max(0, (int)ceilf(left - .5f)), x1 = min(width - 1, (int)floorf(right - .5f));
  int y0 = max(0, (int)ceilf(top - .5f)), y1 = min(height - 1, (int)floorf(bottom - .5f));
  float area = cross(A, B, C[0], C[1]);
  if (x1 < x0 || y1 < y0 || fabsf(area) < 1e-9f) return;
  float za = perspective ? 1 / A[2] : A[2], zb = perspective ? 1 / B[2] : B[2];
  float zc = perspective ? 1 / C[2] : C[2];
  Cell* mine = cells + (long long)who[f * 3 + 1] * width * height;
  uint32_t name = ((uint32_t)who[f * 3 + 2] << FACE_BITS) | (uint32_t)i;
  for (int y = y0; y <= y1; y++)
    for (int x = x0; x <= x1; x++) {
      float wc = cross(A, B, x + .5f, y + .5f) / area, wb = cross(C, A, x + .5f, y + .5f) / area;
      float wa = 1 - wb - wc;
      if (wa < 0 || wb < 0 || wc < 0) continue;
      float depth = wa * za + wb * zb + wc * zc;
      Bits b;
      b.number = perspective ? 1 / depth : depth;
      lower(mine + (long long)y * width + x, ((Cell)b.bits << 32) | name);
    }
}
