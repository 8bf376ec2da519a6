using System.Runtime.InteropServices;
using SkiaSharp;
using Sparewright.Solid;

namespace Sparewright.Handover.Picture;

/// <summary>
/// Shades a mesh as seen along a direction: a depth buffer, one light over the left shoulder, round faces smoothed within themselves.
/// Only pure arithmetic, so the same part gives the same picture everywhere.
/// </summary>
internal static class Shading
{
    private const int PixelsPerMm = 9;
    private const int Finer = 2;
    private const int MostPixels = 1600;

    /// <summary>The shaded part for a view that stands at a place on a sheet (y down), filling a box there.</summary>
    public static Wash Of(Mesh mesh, DrawnView view, double scale, PagePoint origin, Box box)
    {
        double perMm = Math.Min(PixelsPerMm, MostPixels / Math.Max(box.Width, box.Height));
        int width = Math.Max(1, (int)Math.Ceiling(box.Width * perMm)), height = Math.Max(1, (int)Math.Ceiling(box.Height * perMm));
        var filled = box with { MaxX = box.MinX + width / perMm, MaxY = box.MinY + height / perMm };
        using var bitmap = Render(mesh, view, width, height, scale * perMm, new((origin.X - box.MinX) * perMm, (origin.Y - box.MinY) * perMm));
        using var data = bitmap.Encode(SKEncodedImageFormat.Png, 100);
        return new(data.ToArray(), filled);
    }

    private static SKBitmap Render(Mesh mesh, DrawnView view, int width, int height, double scale, PagePoint origin)
    {
        int w = width * Finer, h = height * Finer;
        var depth = new double[w * h];
        Array.Fill(depth, double.NegativeInfinity);
        var tone = new float[w * h];
        Rasterize(mesh, view, scale * Finer, origin * Finer, w, h, depth, tone);

        var pixels = new byte[4 * width * height];
        for (int y = 0; y < height; y++)
        {
            for (int x = 0; x < width; x++)
            {
                double sum = 0;
                int covered = 0;
                for (int s = 0; s < Finer * Finer; s++)
                {
                    int at = (y * Finer + s / Finer) * w + x * Finer + s % Finer;
                    if (double.IsNegativeInfinity(depth[at]))
                        continue;
                    covered++;
                    sum += tone[at];
                }

                if (covered == 0)
                    continue;
                var (r, g, b) = Colour(sum / covered);
                // Premultiplied, as the bitmap wants it.
                int alpha = 255 * covered / (Finer * Finer), p = 4 * (y * width + x);
                (pixels[p], pixels[p + 1], pixels[p + 2], pixels[p + 3]) = ((byte)(r * alpha / 255), (byte)(g * alpha / 255), (byte)(b * alpha / 255), (byte)alpha);
            }
        }

        var bitmap = new SKBitmap(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Premul));
        Marshal.Copy(pixels, 0, bitmap.GetPixels(), pixels.Length);
        return bitmap;
    }

    private static void Rasterize(Mesh mesh, DrawnView view, double scale, PagePoint origin, int w, int h, double[] depth, float[] tone)
    {
        var eye = new Projection(view, scale);
        var light = LightFrom(view);
        var normals = CornerNormals(mesh);
        Span<Point3> corner = stackalloc Point3[3];
        Span<double> shade = stackalloc double[3];
        for (int t = 0; t < mesh.Triangles.Length; t += 3)
        {
            for (int k = 0; k < 3; k++)
            {
                var point = PointOf(mesh, mesh.Triangles[t + k]);
                var page = eye.Page(point);
                corner[k] = new(origin.X + page.X, origin.Y - page.Y, -Point3.Dot(point, eye.Sight));
                shade[k] = Math.Max(0, Point3.Dot(normals[t + k], light));
            }

            double area = (corner[1].X - corner[0].X) * (corner[2].Y - corner[0].Y) - (corner[1].Y - corner[0].Y) * (corner[2].X - corner[0].X);
            // Turned away, or edge on. (y points down here, so a front side runs clockwise.)
            if (area >= 0)
                continue;
            int x0 = Math.Max(0, (int)Math.Floor(Math.Min(corner[0].X, Math.Min(corner[1].X, corner[2].X)))), x1 = Math.Min(w - 1, (int)Math.Ceiling(Math.Max(corner[0].X, Math.Max(corner[1].X, corner[2].X))));
            int y0 = Math.Max(0, (int)Math.Floor(Math.Min(corner[0].Y, Math.Min(corner[1].Y, corner[2].Y)))), y1 = Math.Min(h - 1, (int)Math.Ceiling(Math.Max(corner[0].Y, Math.Max(corner[1].Y, corner[2].Y))));
            for (int y = y0; y <= y1; y++)
            {
                for (int x = x0; x <= x1; x++)
                {
                    double px = x + 0.5, py = y + 0.5;
                    double a = ((corner[1].X - px) * (corner[2].Y - py) - (corner[1].Y - py) * (corner[2].X - px)) / area;
                    double b = ((corner[2].X - px) * (corner[0].Y - py) - (corner[2].Y - py) * (corner[0].X - px)) / area;
                    double c = 1 - a - b;
                    if (a < -1e-9 || b < -1e-9 || c < -1e-9)
                        continue;
                    double z = a * corner[0].Z + b * corner[1].Z + c * corner[2].Z;
                    if (z <= depth[y * w + x])
                        continue;
                    depth[y * w + x] = z;
                    tone[y * w + x] = (float)(a * shade[0] + b * shade[1] + c * shade[2]);
                }
            }
        }
    }

    /// <summary>The unit normal at each corner of each triangle, smoothed over the triangles of the same face.</summary>
    private static Point3[] CornerNormals(Mesh mesh)
    {
        var sums = new Dictionary<(int Face, int Point), Point3>();
        for (int t = 0; t < mesh.Triangles.Length; t += 3)
        {
            Point3 a = PointOf(mesh, mesh.Triangles[t]), b = PointOf(mesh, mesh.Triangles[t + 1]), c = PointOf(mesh, mesh.Triangles[t + 2]);
            var normal = Point3.Cross(b - a, c - a);
            for (int k = 0; k < 3; k++)
            {
                ref var sum = ref CollectionsMarshal.GetValueRefOrAddDefault(sums, (mesh.FaceOfTriangle[t / 3], mesh.Triangles[t + k]), out _);
                sum += normal;
            }
        }

        var normals = new Point3[mesh.Triangles.Length];
        for (int k = 0; k < normals.Length; k++)
        {
            var sum = sums[(mesh.FaceOfTriangle[k / 3], mesh.Triangles[k])];
            normals[k] = sum.Length > 0 ? sum * (1 / sum.Length) : sum;
        }

        return normals;
    }

    private static Point3 PointOf(Mesh mesh, int index) => new(mesh.Points[3 * index], mesh.Points[3 * index + 1], mesh.Points[3 * index + 2]);

    /// <summary>Over the left shoulder of whoever looks.</summary>
    private static Point3 LightFrom(DrawnView view)
    {
        var sight = new Point3(view.Sight[0], view.Sight[1], view.Sight[2]);
        var up = new Point3(view.Up[0], view.Up[1], view.Up[2]);
        var light = up * 0.75 - Point3.Cross(sight, up) * 0.45 - sight * 0.55;
        return light * (1 / light.Length);
    }

    private static (int R, int G, int B) Colour(double tone)
    {
        double t = Math.Clamp(tone, 0, 1) * 2;
        var (from, to, share) = t < 1 ? (Palette.Shade, Palette.HalfTone, t) : (Palette.HalfTone, Palette.Light, t - 1);
        return ((int)(from.Red + (to.Red - from.Red) * share), (int)(from.Green + (to.Green - from.Green) * share), (int)(from.Blue + (to.Blue - from.Blue) * share));
    }
}
