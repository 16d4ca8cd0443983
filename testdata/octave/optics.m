% Numbers of the optics package of Octave, worked out by that package alone.
% Run:  octave-cli --no-gui optics.m   writes paraxial.csv and zernike.csv here.
pkg load optics

% Its abcd class leaves a variable of its drawings unset, which Octave 7 refuses: a
% copy with that one variable set is used, its arithmetic untouched.
own = fileparts(fileparts(which("@abcd/trace")));
copy = tempname();
mkdir(copy);
system(["cp -r " own "/@abcd " copy]);
system(["sed -i 's/^  rout = rin;/  rout = rin; plot_elements = struct(\"x\", {}, \"text\", {});/' " copy "/@abcd/trace.m"]);
addpath(copy);
rmpath(own);
addpath(own, "-end");

% power (D) and focus (mm behind the first vertex) of a chain of surfaces
function [power, focus] = chain(radii, n, t)
  e = {};
  for k = 1:numel(radii)
    e = [e, {"curved-refraction", [n(k), n(k + 1), radii(k)]}];
    if k < numel(radii)
      e = [e, {"propagation", t(k)}];
    end
  end
  out = trace(abcd(e{:}), [1; 0]);
  power = -1000 * n(end) * out(2);
  focus = sum(t) - out(1) / out(2);
end

f = fopen("paraxial.csv", "w");
fprintf(f, "name,power_d,focus_mm\n");
[p, z] = chain([7.8 6.5 10.2 -6], [1 1.3771 1.3374 1.42 1.336], [.55 3.05 4]);
fprintf(f, "le-grand,%.10f,%.10f\n", p, z);
[p, z] = chain([7.72 6.5 10.2 -6], [1 1.376 1.3374 1.42 1.336], [.55 3.05 4]);
fprintf(f, "navarro-1985,%.10f,%.10f\n", p, z);
[p, z] = chain([7.72 6.5 10.2 -6], [1 1.3777 1.3391 1.4222 1.3377], [.55 3.05 4]);
fprintf(f, "escudero-navarro,%.10f,%.10f\n", p, z);
[p, z] = chain([7.575 11.043 -11.043], [1 1.3375 1.4577 1.3375], [4.5 1.14]);
fprintf(f, "bench-implant-eye,%.10f,%.10f\n", p, z);
% a lens by itself, as one element: equiconvex, and one bent towards its front
out = trace(abcd("thick-lens", [1.3375 1.4577 11.043 -11.043 1.14]), [1; 0]);
fprintf(f, "bench-implant,%.10f,%.10f\n", -1000 * 1.3375 * out(2), 1.14 - out(1) / out(2));
out = trace(abcd("thick-lens", [1.336 1.49 9.5 -20 .9]), [1; 0]);
fprintf(f, "bent-lens,%.10f,%.10f\n", -1000 * 1.336 * out(2), .9 - out(1) / out(2));
fclose(f);

% every polynomial to order 8 with its derivatives, at places inside the disc
x = [0.3 -0.55 0.71 0.02 -0.8];
y = [0.4 0.62 -0.33 -0.9 -0.1];
[Z, dx, dy] = zernikes_and_derivatives_cartesian_OSA(x, y, 8, "nan");
f = fopen("zernike.csv", "w");
fprintf(f, "j,x,y,value,by_x,by_y\n");
for j = 1:size(Z, 3)
  for k = 1:numel(x)
    fprintf(f, "%d,%g,%g,%.10f,%.10f,%.10f\n", j - 1, x(k), y(k), Z(1, k, j), dx(1, k, j), dy(1, k, j));
  end
end
fclose(f);
