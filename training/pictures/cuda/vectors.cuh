// Vectors, noise, and what lets the same text be compiled for an accelerator and for a processor.
#ifdef ON_PROCESSOR
#include <algorithm>
#include <cmath>
#include <cstdint>
using std::max;
using std::min;
#define INNER static inline
#define KERNEL extern "C" void
struct Index { int x, y, z; };
static Index blockIdx, threadIdx, blockDim;
static inline void lower(unsigned long long* cell, unsigned long long value) {
  if (value < *cell) *cell = value;
}
#else
#define INNER __device__ __forceinline__
#define KERNEL extern "C" __global__ void
typedef unsigned char uint8_t;
typedef short int16_t;
typedef signed char int8_t;
typedef unsigned int uint32_t;
typedef int int32_t;
INNER void lower(unsigned long long* cell, unsigned long long value) { atomicMin(cell, value); }
#endif

#define NOTHING 0xFFFFFFFFFFFFFFFFULL
#define FACE_BITS 26  // a cell of the depth buffer: depth, slot of the figure, number of the face

typedef unsigned long long Cell;
struct Vec { float x, y, z; };
union Bits { float number; uint32_t bits; };

INNER Vec vec(float x, float y, float z) { Vec r; r.x = x; r.y = y; r.z = z; return r; }
INNER Vec load(const float* p) { return vec(p[0], p[1], p[2]); }
INNER Vec operator+(Vec a, Vec b) { return vec(a.x + b.x, a.y + b.y, a.z + b.z); }
INNER Vec operator-(Vec a, Vec b) { return vec(a.x - b.x, a.y - b.y, a.z - b.z); }
INNER Vec operator*(Vec a, float s) { return vec(a.x * s, a.y * s, a.z * s); }
INNER Vec operator*(Vec a, Vec b) { return vec(a.x * b.x, a.y * b.y, a.z * b.z); }
INNER float dot(Vec a, Vec b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
INNER Vec unit(Vec a) { return a * (1.0f / sqrtf(dot(a, a) + 1e-12f)); }
INNER Vec mix(Vec a, Vec b, float t) { return a * (1 - t) + b * t; }
INNER float between(float x, float low, float high) { return fminf(fmaxf(x, low), high); }
INNER Vec times(const float* m, Vec a) {  // matrix, row by row
  return vec(dot(load(m), a), dot(load(m + 3), a), dot(load(m + 6), a));
}
INNER Vec times_transposed(const float* m, Vec a) {
  return load(m) * a.x + load(m + 3) * a.y + load(m + 6) * a.z;
}

INNER uint32_t scramble(uint32_t x) {
  x ^= x >> 16; x *= 0x7feb352dU; x ^= x >> 15; x *= 0x846ca68bU; x ^= x >> 16;
  return x;
}
INNER float lattice(int x, int y, int z) {
  uint32_t mixed = (uint32_t)x * 73856093U ^ (uint32_t)y * 19349663U ^ (uint32_t)z * 83492791U;
  return scramble(mixed) * (1.0f / 4294967296.0f);
}
INNER float smooth(float t) { return t * t * (3 - 2 * t); }
INNER float noise(Vec p) {  // 0 to 1, one lattice step a unit
  float fx = floorf(p.x), fy = floorf(p.y), fz = floorf(p.z), sum = 0;
  int ix = (int)fx, iy = (int)fy, iz = (int)fz;
  float x = smooth(p.x - fx), y = smooth(p.y - fy), z = smooth(p.z - fz);
  for (int k = 0; k < 8; k++) {
    int a = k & 1, b = (k >> 1) & 1, c = k >> 2;
    float weight = (a ? x : 1 - x) * (b ? y : 1 - y) * (c ? z : 1 - z);
    sum += lattice(ix + a, iy + b, iz + c) * weight;
  }
  return sum;
}
INNER float layered(Vec p, int layers) {
  float sum = 0, weight = .5f, total = 0;
  for (int i = 0; i < layers; i++) {
    sum += weight * noise(p);
    total += weight;
    weight *= .55f;
    p = p * 2.03f + vec(17.1f, 5.3f, 9.7f);
  }
  return sum / total;
}
