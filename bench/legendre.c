/* The rival of bench/relaxation.ts in C: the same Radau IIA steps over Legendre moments, once particle after particle
 * (plain doubles) and once eight particles abreast (one vector of eight doubles).
 *   cc -O3 -march=native -o legendre legendre.c -lm
 *   ./legendre PARTICLES MOMENTS STEPS REPEATS   prints for each form the shortest time of a repeat in s, and M/Ms at the end */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#define MOST_MOMENTS 512

static const double c0 = 0.15505102572168219, c1 = 0.6449489742783178;

typedef double abreast __attribute__((vector_size(64)));

#define STEPPER(NAME, T)                                                                                               \
  static void NAME(const double *field, const double *length, int steps, T k, T tau, int moments, T *m, T *trace) {    \
    static T rate[MOST_MOMENTS], coupling[MOST_MOMENTS], e[MOST_MOMENTS][3], g[MOST_MOMENTS][9];                        \
    double last = -1;                                                                                                  \
    const T zero = k - k;                                                                                              \
    for (int s = 0; s < steps; s++) {                                                                                  \
      if (length[s] != last) {                                                                                         \
        last = length[s];                                                                                              \
        for (int i = 0; i < moments; i++) {                                                                            \
          rate[i] = last / (2.0 * tau) * (double)((i + 1) * (i + 2));                                                  \
          coupling[i] = rate[i] / (double)(2 * i + 3);                                                                 \
        }                                                                                                              \
      }                                                                                                                \
      const T x0 = k * field[3 * s], x1 = k * field[3 * s + 1], x2 = k * field[3 * s + 2];                             \
      T g0 = zero, g1 = zero, g2 = zero, g3 = zero, g4 = zero, g5 = zero, g6 = zero, g7 = zero, g8 = zero;             \
      T e0 = zero, e1 = zero, e2 = zero;                                                                               \
      for (int n = moments - 1; n >= 0; n--) {                                                                         \
        const T c = m[n], d = rate[n], s0 = coupling[n] * x0, s1 = coupling[n] * x1, s2 = coupling[n] * x2;            \
        const T b0 = 3.2247448713915890491 + d + s0 * g0, b1 = 1.1678400846904054949 + s0 * g1,                        \
                b2 = -0.25319726474218082619 + s0 * g2, b3 = -3.5678400846904054949 + s1 * g3,                         \
                b4 = 0.7752551286084109509 + d + s1 * g4, b5 = 1.0531972647421808262 + s1 * g5,                        \
                b6 = 5.5319726474218082619 + s2 * g6, b7 = -7.5319726474218082619 + s2 * g7, b8 = 5.0 + d + s2 * g8;   \
        const T a0 = b4 * b8 - b5 * b7, a1 = b2 * b7 - b1 * b8, a2 = b1 * b5 - b2 * b4;                                \
        const T a3 = b5 * b6 - b3 * b8, a4 = b0 * b8 - b2 * b6, a5 = b2 * b3 - b0 * b5;                                \
        const T a6 = b3 * b7 - b4 * b6, a7 = b1 * b6 - b0 * b7, a8 = b0 * b4 - b1 * b3;                                \
        const T inverse = 1.0 / (b0 * a0 + b1 * a3 + b2 * a6);                                                         \
        const T r0 = (4.1393876913398137178 * c - s0 * e0) * inverse, r1 = (-1.7393876913398137178 * c - s1 * e1) * inverse, \
                r2 = (3.0 * c - s2 * e2) * inverse;                                                                    \
        e[n][0] = e0 = a0 * r0 + a1 * r1 + a2 * r2;                                                                    \
        e[n][1] = e1 = a3 * r0 + a4 * r1 + a5 * r2;                                                                    \
        e[n][2] = e2 = a6 * r0 + a7 * r1 + a8 * r2;                                                                    \
        const T t0 = s0 * inverse, t1 = s1 * inverse, t2 = s2 * inverse;                                               \
        g[n][0] = g0 = a0 * t0, g[n][1] = g1 = a1 * t1, g[n][2] = g2 = a2 * t2;                                        \
        g[n][3] = g3 = a3 * t0, g[n][4] = g4 = a4 * t1, g[n][5] = g5 = a5 * t2;                                        \
        g[n][6] = g6 = a6 * t0, g[n][7] = g7 = a7 * t1, g[n][8] = g8 = a8 * t2;                                        \
      }                                                                                                                \
      T y0 = zero + 1.0, y1 = y0, y2 = y0;                                                                             \
      for (int n = 0; n < moments; n++) {                                                                              \
        const T z0 = e[n][0] + (g[n][0] * y0 + g[n][1] * y1 + g[n][2] * y2);                                           \
        const T z1 = e[n][1] + (g[n][3] * y0 + g[n][4] * y1 + g[n][5] * y2);                                           \
        const T z2 = e[n][2] + (g[n][6] * y0 + g[n][7] * y1 + g[n][8] * y2);                                           \
        m[n] = z2;                                                                                                     \
        y0 = z0, y1 = z1, y2 = z2;                                                                                     \
      }                                                                                                                \
      trace[s] = m[0];                                                                                                 \
    }                                                                                                                  \
  }

STEPPER(one_particle, double)
STEPPER(eight_particles, abreast)

static double now(void) {
  struct timespec t;
  clock_gettime(CLOCK_MONOTONIC, &t);
  return t.tv_sec + 1e-9 * t.tv_nsec;
}

int main(int count, char **words) {
  if (count != 5) return 2;
  const int particles = atoi(words[1]), moments = atoi(words[2]), steps = atoi(words[3]), repeats = atoi(words[4]);
  if (moments > MOST_MOMENTS || particles % 8 != 0) return 2;
  double *field = malloc(3 * steps * sizeof *field), *length = malloc(steps * sizeof *length);
  const double frequency = 25e3, step = 1 / frequency / 200, amplitude = 20e-3;
  for (int s = 0; s < steps; s++) {
    length[s] = step;
    const double nodes[3] = {c0, c1, 1};
    for (int i = 0; i < 3; i++)
      field[3 * s + i] = amplitude * cos(2 * M_PI * frequency * step * (s + nodes[i]));
  }
  /* xi 20 down to 13 at the peak, omega tau 1: as in bench/relaxation.ts */
  double plain = INFINITY, wide = INFINITY, end_plain = 0, end_wide = 0;
  abreast *trace = aligned_alloc(64, steps * sizeof *trace), m8[MOST_MOMENTS];
  double m[MOST_MOMENTS];
  const double tau = 1 / (2 * M_PI * frequency);
  for (int r = 0; r < repeats; r++) {
    double began = now();
    for (int p = 0; p < particles; p++) {
      for (int n = 0; n < moments; n++) m[n] = 0;
      one_particle(field, length, steps, 1000 * (1 - 0.05 * (p % 8)), tau, moments, m, (double *)trace);
      end_plain = m[0];
    }
    double took = now() - began;
    if (took < plain) plain = took;
    began = now();
    for (int p = 0; p < particles; p += 8) {
      abreast k, taus;
      for (int i = 0; i < 8; i++) k[i] = 1000 * (1 - 0.05 * i), taus[i] = tau;
      for (int n = 0; n < moments; n++) m8[n] = k - k;
      eight_particles(field, length, steps, k, taus, moments, m8, trace);
      end_wide = m8[0][7];
    }
    took = now() - began;
    if (took < wide) wide = took;
  }
  printf("%.9g %.9g %.17g %.17g\n", plain, wide, end_plain, end_wide);
  return 0;
}
