using Acquire.Analysis.Control;

namespace Acquire.Analysis.Tests.Control;

public class CusumTests
{
    private static readonly double[] Values =
    [
        324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600,
        324.625, 325.150, 328.325, 327.250, 327.825, 328.500, 326.675, 327.775, 326.875, 328.350,
    ];

    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 6.3.2.3, k = 0.3175, h = 4.1959, sums recomputed with the page's data")]
    public void Sums_of_the_handbook_signal_at_group_14()
    {
        var points = new Cusum(325, 0.3175, 4.1959).Of(Values);

        Assert.Equal([0.0325, 3.0075, 4.94, 7.4475, 10.63, 11.9875, 14.445, 16.0025, 19.035],
            points.Where(p => p.High > 0).Select(p => Math.Round(p.High, 4)));
        Assert.Equal(
            [0.0075, 0.3325, 0.5575, 0.7150, 0.1725, 0.2550, 0.3125], points.Where(p => p.Low > 0).Select(p => Math.Round(p.Low, 4)));
        Assert.Equal([14, 15, 16, 17, 18, 19, 20], points.Where(p => p.Signal == Side.High).Select(p => p.Count));
        Assert.DoesNotContain(points, p => p.Signal == Side.Low);
        Assert.Equal(12, points[13].Began);
    }

    [Fact]
    public void Sums_never_fall_below_zero_and_mirror() => Gen.Double[-3, 3].Array[0, 50].Sample(values =>
    {
        var (plain, mirrored) = (new Cusum(0, 0.5, 5).Of(values), new Cusum(0, 0.5, 5).Of(values.Select(v => -v)));
        Assert.All(plain, p => Assert.True(p.High >= 0 && p.Low >= 0));
        Assert.Equal(plain.Select(p => (p.High, p.Low, p.Began)), mirrored.Select(p => (p.Low, p.High, p.Began)));
    });
}
