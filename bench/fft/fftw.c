// Times the forward transform of real single-precision images by FFTW, plans
// measured beforehand, and prints for each size the least time of all repeats.
//
//	cc -O3 -march=native -o fftw fftw.c -lfftw3f_threads -lfftw3f -lm -lpthread
//	./fftw THREADS REPEATS WxH...
#include <fftw3.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static double now(void) {
	struct timespec t;
	clock_gettime(CLOCK_MONOTONIC, &t);
	return t.tv_sec * 1e3 + t.tv_nsec * 1e-6;
}

static double least(fftwf_plan plan, int repeats) {
	double best = 1e30;
	for (int i = 0; i < repeats; i++) {
		double began = now();
		fftwf_execute(plan);
		double took = now() - began;
		if (took < best) best = took;
	}
	return best;
}

int main(int argc, char **argv) {
	if (argc < 4) return 2;
	int threads = atoi(argv[1]), repeats = atoi(argv[2]);
	fftwf_init_threads();
	fftwf_plan_with_nthreads(threads);
	for (int a = 3; a < argc; a++) {
		int w, h;
		if (sscanf(argv[a], "%dx%d", &w, &h) != 2) return 2;
		float *x = fftwf_malloc(sizeof(float) * w * h);
		fftwf_complex *f = fftwf_malloc(sizeof(fftwf_complex) * (w / 2 + 1) * h);
		fftwf_plan plan = fftwf_plan_dft_r2c_2d(h, w, x, f, FFTW_MEASURE);
		for (int i = 0; i < w * h; i++) x[i] = (float)rand() / RAND_MAX;
		printf("fftw %s %d %.3f\n", argv[a], threads, least(plan, repeats));
		fftwf_destroy_plan(plan);
		fftwf_free(x);
		fftwf_free(f);
	}
	return 0;
}
