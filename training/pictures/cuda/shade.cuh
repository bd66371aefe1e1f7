// From depth buffers to a picture.

struct Figures {  // what shading asks of the figures
  const float* figures;
  const float* colours;
  const float* materials;
  const int* who;
  const int* of_slot;
  const int* spans;
  const int8_t* normals;
  const int32_t* faces;
  const uint8_t* face_class;
  const uint8_t* tints;
  const float* on_camera;
  int most_vertices;
};
struct Surface { Vec at, normal, to_eye, colour; float gloss, shine; };

INNER Vec normal_of(const int8_t* n, const int32_t* face, float wa, float wb, float wc) {
  const int8_t *a = n + face[0] * 3, *b = n + face[1] * 3, *c = n + face[2] * 3;
  return unit(vec(a[0] * wa + b[0] * wb + c[0] * wc, a[1] * wa + b[1] * wb + c[1] * wc,
                  a[2] * wa + b[2] * wb + c[2] * wc));
}
INNER Surface surface(const Figures& all, const float* row, int f, int i, float X, float Y, int ss) {
  const float* figure = all.figures + f * FIGURE_LENGTH;
  const int* span = all.spans + all.who[f * 3] * 4;
  const int32_t* face = all.faces + (long long)(span[2] + i) * 3;
  const float* seen = all.on_camera + (long long)f * all.most_vertices * 3;
  const float *A = seen + face[0] * 3, *B = seen + face[1] * 3, *C = seen + face[2] * 3;
  float area = cross(A, B, C[0], C[1]);
  float wc = cross(A, B, X, Y) / area, wb = cross(C, A, X, Y) / area, wa = (1 - wb - wc) / A[2];
  wb /= B[2]; wc /= C[2];
  float depth = 1 / (wa + wb + wc);
  Surface out;
  out.normal = turned(figure, normal_of(all.normals + (long long)span[0] * 3, face, wa, wb, wc));
  float x = (X / ss - row[ROW_CENTRE]) / row[ROW_FOCAL];
  float y = (Y / ss - row[ROW_CENTRE + 1]) / row[ROW_FOCAL];
  Vec from = eye(row);
  out.at = from + times_transposed(row + ROW_ROTATION, vec(x, y, 1) * depth);
  out.to_eye = unit(from - out.at);
  if (dot(out.normal, out.to_eye) < 0)
    out.normal = out.normal - out.to_eye * (1.05f * dot(out.normal, out.to_eye));
  int kind = all.face_class[span[2] + i];
  const uint8_t* tint = all.tints + (long long)(span[2] + i) * 3;
  const float* material = all.materials + kind * 3;
  out.colour = load(all.colours + (f * CLASSES + kind) * 3) *
               (vec(tint[0], tint[1], tint[2]) * TINT_STEP);
  out.gloss = material[1]; out.shine = material[2];
  if (material[0] > .5f) {  // cloth: creases
    float rough = figure[FIGURE_CREASES], seed = row[ROW_SEED];
    float fine = layered(out.at * 30.f + vec(seed, 0, 0), 3) - .5f;
    float wide = layered(out.at * 9.f + vec(0, seed, 0), 2) - .5f;
    out.normal = unit(out.normal + vec(fine, wide, fine - wide) * (rough * 1.2f));
    out.colour = out.colour * (1 + rough * .6f * fine);
  }
  return out;
}
INNER Vec looks(const float* row, const Cell* light, int side, const Surface& s) {
  float dark = shadow(row, light, side, s.at + s.normal * .012f, .012f);
  dark *= fminf(1.f, row[ROW_SHADOW] * 1.15f);
  Vec half = unit(load(row + ROW_LIGHT_AXES + 6) + s.to_eye);
  float glint = powf(fmaxf(0, dot(s.normal, half)), s.gloss) * (1 - dark);
  float rim = 1 - fmaxf(0, dot(s.normal, s.to_eye));
  Vec colour = s.colour * lit(row, s.normal, dark) + load(row + ROW_SUN) * (glint * s.shine) +
               load(row + ROW_AMBIENT) * (.06f * rim * rim * rim * rim);
  return vec(fminf(colour.x, 4), fminf(colour.y, 4), fminf(colour.z, 4));
}
INNER float developed(float x, const float* row) {  // scene light to a picture's 0 to 1
  x = fmaxf(0, x) * row[ROW_EXPOSURE];
  return powf(fminf((x * (1 + x * .15f)) / (1 + x * .55f), 1.f), row[ROW_GAMMA]);
}

// one thread a pixel (x) of a picture (y)
KERNEL shade(const float* rows, const float* figures, const float* colours, const float* materials,
             const int* who, const int* of_slot, const int* spans, const int8_t* normals,
             const int32_t* faces, const uint8_t* face_class, const uint8_t* tints,
             const float* on_camera, const Cell* camera, const Cell* lights, float* out,
             int most_vertices, int width, int height, int ss, int side) {
  int b = blockIdx.y, i = blockIdx.x * blockDim.x + threadIdx.x, empty = 0;
  if (i >= width * height) return;
  Figures all = {figures, colours, materials, who, of_slot, spans, normals, faces, face_class,
                 tints, on_camera, most_vertices};
  int px = i % width, py = i / width;
  const float* row = rows + b * ROW_LENGTH;
  const Cell* light = lights + (long long)b * side * side;
  Vec sum = vec(0, 0, 0);
  for (int s = 0; s < ss * ss; s++) {
    int x = px * ss + s % ss, y = py * ss + s / ss;
    Cell cell = camera[((long long)b * height * ss + y) * width * ss + x];
    if (cell == NOTHING) { empty++; continue; }
    uint32_t name = (uint32_t)(cell & 0xFFFFFFFFULL);
    int f = of_slot[b * SLOTS + (name >> FACE_BITS)], face = name & ((1U << FACE_BITS) - 1);
    sum = sum + looks(row, light, side, surface(all, row, f, face, x + .5f, y + .5f, ss));
  }
  float u = px + .5f, v = py + .5f;
  if (empty)
    sum = sum + overlay(row, u, v, false, background(row, light, side, u, v)) * (float)empty;
  sum = overlay(row, u, v, true, sum * (1.f / (ss * ss)));
  float* pixel = out + (long long)b * 3 * width * height + i;
  pixel[0] = developed(sum.x, row);
  pixel[(long long)width * height] = developed(sum.y, row);
  pixel[2LL * width * height] = developed(sum.z, row);
}
