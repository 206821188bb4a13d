using Acquire.Analysis.Control;

namespace Acquire.Analysis.Tests.Control;

public class EwmaTests
{
    private static readonly double[] Values =
        [52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];

    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 6.3.2.4; its lower limit comes from a factor rounded to 0.4201")]
    public void Average_of_the_handbook_is_reproduced()
    {
        var ewma = new Ewma(50, 2.0539, 0.3, 3);
        var points = ewma.Of(Values);

        double[] printed =
        [
            50.60, 49.52,
            50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99,
        ];
        Assert.Equal(printed, points.Select(p => Math.Round(p.Value, 2)));
        Assert.Equal(52.5884, 50 + ewma.FinalHalfWidth, 5e-5);
        Assert.Equal(47.4115, 50 - ewma.FinalHalfWidth, 1e-4);
        Assert.Equal([1.8485, 2.2564, 2.4314, 2.5127, 2.5516, 2.5705], points.Take(6).Select(p => Math.Round(p.Upper - 50, 4)));
        Assert.All(points, p => Assert.Equal(Side.Neither, p.Signal));
    }

    [Fact]
    public void Average_with_full_weight_is_the_value_itself() => Gen.Double[-3, 3].Array[1, 20].Sample(values =>
        Assert.Equal(values, new Ewma(0, 1, 1).Of(values).Select(p => p.Value)));

    [Fact]
    public void Average_lies_between_its_target_and_the_values() => Gen.Select(Gen.Double[-3, 3].Array[1, 20], Gen.Double[0.05, 1])
        .Sample((values, lambda) =>
        Assert.All(
            new Ewma(0, 1, lambda).Of(values),
            p => Assert.InRange(p.Value, Math.Min(0, values.Min()) - 1e-12, Math.Max(0, values.Max()) + 1e-12)));
}
