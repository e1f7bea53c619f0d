/* The rival of bench/macrospin.ts in C: the same stochastic Heun steps of chains of macrospins, with the same generator
 * (SFC64) and normals by a ziggurat of 256 strips; once chain after chain, once eight chains abreast.
 *   cc -O3 -march=native -o macrospin macrospin.c -lm
 *   ./macrospin CHAINS SPINS STEPS   prints the time of each form in s and the mean moment at its end */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#define MOST_SPINS 64

typedef double abreast __attribute__((vector_size(64)));

static uint64_t a = 1, b = 2, c = 3, counter = 1;
static double bound[256], width[256], height[256];
static const double edge = 3.654152885361009;

static inline uint64_t draw(void) {
  const uint64_t out = a + b + counter++;
  a = b ^ (b >> 11);
  b = c + (c << 3);
  c = ((c << 24) | (c >> 40)) + out;
  return out;
}

static double unit(void) { return (draw() >> 11) * 0x1p-53; }

static double normal(void) {
  for (;;) {
    const uint64_t bits = draw();
    const int strip = bits & 0xff;
    const double position = (double)((bits >> 9) & ((1ull << 52) - 1));
    double x = position * width[strip];
    if (position >= bound[strip]) {
      if (strip == 0) {
        double beyond, y;
        do {
          beyond = -log1p(-unit()) / edge;
          y = -log1p(-unit());
        } while (!(2 * y > beyond * beyond));
        x = edge + beyond;
      } else if (!((height[strip - 1] - height[strip]) * unit() + height[strip] < exp(-x * x / 2)))
        continue;
    }
    return bits & 0x100 ? -x : x;
  }
}

static void tables(void) {
  const double area = edge * exp(-edge * edge / 2) + sqrt(M_PI / 2) * erfc(edge / sqrt(2));
  const double base = area / exp(-edge * edge / 2);
  bound[0] = floor(edge / base * 0x1p52), width[0] = base * 0x1p-52, height[0] = 1;
  width[255] = edge * 0x1p-52, height[255] = exp(-edge * edge / 2);
  double outer = edge;
  for (int i = 254; i >= 1; i--) {
    const double x = sqrt(-2 * log(area / outer + exp(-outer * outer / 2)));
    bound[i + 1] = floor(x / outer * 0x1p52), width[i] = x * 0x1p-52, height[i] = exp(-x * x / 2);
    outer = x;
  }
}

static inline double drawn_double(void) { return normal(); }
static inline abreast drawn_abreast(void) {
  abreast out;
  for (int i = 0; i < 8; i++) out[i] = normal();
  return out;
}
static inline double root_double(double x) { return sqrt(x); }
static inline abreast root_abreast(abreast x) {
  for (int i = 0; i < 8; i++) x[i] = sqrt(x[i]);
  return x;
}

static const double precession = 0.05, damping = 0.1, thermal = 0.03, anisotropy = 0.04;
static double coupling[MOST_SPINS];

#define STEPPER(T)                                                                                                     \
  static inline void slope_##T(int spins, T s[][3], T e[][3], T noise[][3], double field_T, T out[][3]) {              \
    for (int i = 0; i < spins; i++) {                                                                                  \
      const T x = s[i][0], y = s[i][1], z = s[i][2];                                                                   \
      T sx = x - x, sy = sx, sz = sx;                                                                                  \
      for (int j = 0; j < spins; j++) {                                                                                \
        const double g = coupling[j < i ? i - j : j - i];                                                              \
        sx += g * s[j][0], sy += g * s[j][1], sz += g * s[j][2];                                                       \
      }                                                                                                                \
      const T easy = anisotropy * (x * e[i][0] + y * e[i][1] + z * e[i][2]);                                           \
      const T bx = easy * e[i][0] - sx + thermal * noise[i][0], by = easy * e[i][1] - sy + thermal * noise[i][1],      \
              bz = field_T + easy * e[i][2] + 2.0 * sz + thermal * noise[i][2];                                        \
      const T cx = y * bz - z * by, cy = z * bx - x * bz, cz = x * by - y * bx;                                        \
      out[i][0] = cx + damping * (y * cz - z * cy);                                                                    \
      out[i][1] = cy + damping * (z * cx - x * cz);                                                                    \
      out[i][2] = cz + damping * (x * cy - y * cx);                                                                    \
    }                                                                                                                  \
  }                                                                                                                    \
  static void chain_##T(int spins, int steps, const double *field_T, T s[][3], T e[][3]) {                             \
    T noise[MOST_SPINS][3], predicted[MOST_SPINS][3], first[MOST_SPINS][3], second[MOST_SPINS][3];                     \
    for (int step = 0; step < steps; step++) {                                                                         \
      for (int i = 0; i < spins; i++)                                                                                  \
        for (int k = 0; k < 3; k++) noise[i][k] = drawn_##T();                                                         \
      slope_##T(spins, s, e, noise, field_T[step], first);                                                             \
      for (int i = 0; i < spins; i++)                                                                                  \
        for (int k = 0; k < 3; k++) predicted[i][k] = s[i][k] - precession * first[i][k];                              \
      slope_##T(spins, predicted, e, noise, field_T[step + 1], second);                                                \
      for (int i = 0; i < spins; i++) {                                                                                \
        for (int k = 0; k < 3; k++) s[i][k] -= 0.5 * precession * (first[i][k] + second[i][k]);                        \
        const T scale = 1.0 / root_##T(s[i][0] * s[i][0] + s[i][1] * s[i][1] + s[i][2] * s[i][2]);                     \
        for (int k = 0; k < 3; k++) s[i][k] *= scale;                                                                  \
      }                                                                                                                \
    }                                                                                                                  \
  }                                                                                                                    \
  static void start_##T(int spins, T s[][3]) {                                                                         \
    for (int i = 0; i < spins; i++) {                                                                                  \
      for (int k = 0; k < 3; k++) s[i][k] = drawn_##T();                                                               \
      const T scale = 1.0 / root_##T(s[i][0] * s[i][0] + s[i][1] * s[i][1] + s[i][2] * s[i][2]);                       \
      for (int k = 0; k < 3; k++) s[i][k] *= scale;                                                                    \
    }                                                                                                                  \
  }

STEPPER(double)
STEPPER(abreast)

static double now(void) {
  struct timespec t;
  clock_gettime(CLOCK_MONOTONIC, &t);
  return t.tv_sec + 1e-9 * t.tv_nsec;
}

int main(int count, char **words) {
  if (count != 4) return 2;
  const int chains = atoi(words[1]), spins = atoi(words[2]), steps = atoi(words[3]);
  if (spins > MOST_SPINS || chains % 8 != 0) return 2;
  tables();
  double *field_T = malloc((steps + 1) * sizeof *field_T);
  for (int i = 0; i <= steps; i++) field_T[i] = 0.02 * cos(0.01 * i);
  for (int n = 1; n < spins; n++) coupling[n] = 0.05 / (n * (double)n * n);
  double sum = 0, sum8 = 0, began = now();
  for (int chain = 0; chain < chains; chain++) {
    double s[MOST_SPINS][3], e[MOST_SPINS][3];
    start_double(spins, s), start_double(spins, e);
    chain_double(spins, steps, field_T, s, e);
    for (int i = 0; i < spins; i++) sum += s[i][2];
  }
  const double plain = now() - began;
  began = now();
  for (int chain = 0; chain < chains; chain += 8) {
    abreast s[MOST_SPINS][3], e[MOST_SPINS][3];
    start_abreast(spins, s), start_abreast(spins, e);
    chain_abreast(spins, steps, field_T, s, e);
    for (int i = 0; i < spins; i++)
      for (int k = 0; k < 8; k++) sum8 += s[i][2][k];
  }
  printf("%.9g %.9g %.17g %.17g\n", plain, now() - began, sum / spins / chains, sum8 / spins / chains);
  return 0;
}
