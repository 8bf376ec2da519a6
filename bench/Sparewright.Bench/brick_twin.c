// The strength solver's kernel (BrickKernel.cs) in C, single precision, for comparison: r += K u over runs of cells along x.
// Same algorithm, same data, same order of operations; eight neighbouring cells to a vector.
#include <string.h>

typedef float lanes __attribute__((vector_size(32), aligned(4)));
typedef int places __attribute__((vector_size(32)));

typedef struct { int blocks, slot[4], shares, cut; } run;
typedef struct { lanes m1, m2, m3, m12, m13, m23, m123; } products;

static inline lanes load(const float *at) { lanes v; memcpy(&v, at, sizeof v); return v; }
static inline void store(float *at, lanes v) { memcpy(at, &v, sizeof v); }
static inline lanes all(float x) { return (lanes){x, x, x, x, x, x, x, x}; }

static inline products forward(const float *u, const int *slot, int x) {
  lanes s[4], d[4];
  for (int row = 0; row < 4; row++) {
    lanes near = load(u + slot[row] + x), far = load(u + slot[row] + x + 1);
    s[row] = near + far;
    d[row] = far - near;
  }
  lanes ss0 = s[0] + s[1], sd0 = s[1] - s[0], ds0 = d[0] + d[1], dd0 = d[1] - d[0];
  lanes ss1 = s[2] + s[3], sd1 = s[3] - s[2], ds1 = d[2] + d[3], dd1 = d[3] - d[2];
  return (products){ds0 + ds1, sd0 + sd1, ss1 - ss0, dd0 + dd1, ds1 - ds0, sd1 - sd0, dd1 - dd0};
}

// Near corners get sum - difference; far corners sum + difference, one lane up, the last lane's into the next vector.
static inline void add_row(float *row, lanes sum, lanes difference, lanes *over) {
  lanes turned = __builtin_shuffle(sum + difference, (places){7, 0, 1, 2, 3, 4, 5, 6});
  lanes moved = __builtin_shuffle(turned, *over, (places){8, 1, 2, 3, 4, 5, 6, 7});
  store(row, load(row) + (sum - difference) + moved);
  *over = turned;
}

static inline void back(products m, float *r, const int *slot, int x, lanes *over) {
  lanes ds0 = m.m1 - m.m13, ds1 = m.m1 + m.m13, sd0 = m.m2 - m.m23, sd1 = m.m2 + m.m23, dd0 = m.m12 - m.m123, dd1 = m.m12 + m.m123;
  add_row(r + slot[0] + x, -m.m3 - sd0, ds0 - dd0, over);
  add_row(r + slot[1] + x, sd0 - m.m3, ds0 + dd0, over + 1);
  add_row(r + slot[2] + x, m.m3 - sd1, ds1 - dd1, over + 2);
  add_row(r + slot[3] + x, m.m3 + sd1, ds1 + dd1, over + 3);
}

// factors: k11 k12 k13 k33 k44 k66; u and r hold all x, then all y, then all z, `slots` numbers each.
void brick_add(const run *runs, int count, const float *shares, const float *factors, const float *u, float *r, int slots) {
  lanes k11 = all(factors[0]), k12 = all(factors[1]), k13 = all(factors[2]), k33 = all(factors[3]), k44 = all(factors[4]), k66 = all(factors[5]);
  lanes third = all(1.0f / 3), ninth = all(1.0f / 9);
  lanes k1166 = k11 + k66, k1144 = k11 + k44, k3344 = k33 + k44, k116644 = (k1166 + k44) * ninth, k334444 = (k3344 + k44) * ninth;
  const float *uy = u + slots, *uz = uy + slots;
  float *ry = r + slots, *rz = ry + slots;
  for (int n = 0; n < count; n++) {
    const int *slot = runs[n].slot;
    const float *own = shares + runs[n].shares;
    int cells = 8 * runs[n].blocks;
    lanes ox[4] = {0}, oy[4] = {0}, oz[4] = {0};
    for (int x = 0; x < cells; x += 8) {
      lanes share = load(own + x), t = share * third;
      products a = forward(u, slot, x), b = forward(uy, slot, x), c = forward(uz, slot, x);
      lanes xy = k66 * (a.m2 + b.m1) * share, xz = k44 * (a.m3 + c.m1) * share, yz = k44 * (b.m3 + c.m2) * share;
      lanes xyz = k66 * (a.m23 + b.m13), xzy = k44 * (a.m23 + c.m12), yzx = k44 * (b.m13 + c.m12);
      back((products){(k11 * a.m1 + k12 * b.m2 + k13 * c.m3) * share, xy, xz, (k1166 * a.m12 + k13 * c.m23) * t, (k1144 * a.m13 + k12 * b.m23) * t, (xyz + xzy) * t, k116644 * a.m123 * share}, r, slot, x, ox);
      back((products){xy, (k12 * a.m1 + k11 * b.m2 + k13 * c.m3) * share, yz, (k1166 * b.m12 + k13 * c.m13) * t, (xyz + yzx) * t, (k1144 * b.m23 + k12 * a.m13) * t, k116644 * b.m123 * share}, ry, slot, x, oy);
      back((products){xz, yz, (k13 * (a.m1 + b.m2) + k33 * c.m3) * share, (xzy + yzx) * t, (k3344 * c.m13 + k13 * b.m12) * t, (k3344 * c.m23 + k13 * a.m12) * t, k334444 * c.m123 * share}, rz, slot, x, oz);
    }
    if (own[cells - 1] == 0) continue;
    for (int row = 0; row < 4; row++) {
      r[slot[row] + cells] += ox[row][0];
      ry[slot[row] + cells] += oy[row][0];
      rz[slot[row] + cells] += oz[row][0];
    }
  }
}
