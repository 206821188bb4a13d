using System.Diagnostics;
using Acquire.Analysis.Control;
using Acquire.Analysis.Statistics;
using Acquire.Analysis.Tests.Statistics;

namespace Acquire.Analysis.Tests.Against;

/// <summary>The same charts and models on drawn numbers, by R, which shares no code with ours.</summary>
[Trait("Source", "R (base and stats packages), where it is installed")]
public class RStatisticsTests
{
    private const string Script = """
        d <- read.csv(file("stdin"))
        y <- d$y
        out <- function(...) cat(sprintf("%.17g", c(...)), sep = "\n")
        out(mean(y), sd(y))
        mr <- mean(abs(diff(y))); s <- mr * sqrt(pi) / 2
        out(mean(y) - 3 * s, mean(y) + 3 * s)
        out(tail(filter(0.2 * (y - 0.1), 0.8, method = "recursive") + 0.1, 1))
        out(Reduce(function(c, v) max(0, c + v - 0.1 - 0.05), y, 0), Reduce(function(c, v) max(0, c + 0.1 - 0.05 - v), y, 0))
        m <- lm(y ~ age + g, data = d); v <- summary(m)
        out(coef(m), v$coefficients[, 2], v$sigma, v$r.squared, v$fstatistic[1], v$coefficients[, 4], hatvalues(m)[1])
        a <- anova(lm(y ~ age, data = d), m)
        out(a$F[2], a[["Pr(>F)"]][2])
        o <- anova(lm(y ~ g, data = d))
        out(o[["F value"]][1], o[["Pr(>F)"]][1])
        out(qt(0.975, 3.5), qf(0.95, 5, 125), qchisq(0.95, 9), ptukey(3.3, 3, Inf))
        """;

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public async Task Charts_and_models_agree_with_R(int seed)
    {
        Assert.SkipUnless(File.Exists("/usr/bin/Rscript"), "R is not installed; on Debian: apt-get install r-base-core.");
        var random = new Random(seed);
        var rows = Enumerable.Range(0, 40).Select(i => (Age: 30 * random.NextDouble(), G: "abc"[i % 3].ToString(), E: random.Normal()))
            .Select(r => (r.Age, r.G, Y: 0.1 + (0.01 * r.Age) + (r.G == "b" ? 0.05 : 0) + (0.03 * r.E))).ToList();
        var expected = await RunAsync(rows.Select(r => string.Create(CultureInfo.InvariantCulture, $"{r.Age:R},{r.G},{r.Y:R}")));
        double[] y = [.. rows.Select(r => r.Y)];
        var (summary, limits) = (Summary.Of(y), NaturalLimits.Of(y)!);
        var sums = new Cusum(0.1, 0.05, 5).Of(y)[^1];
        var (age, group) = (new Term("age", [.. rows.Select(r => r.Age)]), Term.Factor("g", [.. rows.Select(r => r.G)]));
        var model = LeastSquares.Fit(y, [age, .. group]);
        var added = ModelComparison.Of(LeastSquares.Fit(y, [age]), model);
        var oneWay = OneWay.Of(rows.GroupBy(r => r.G).Select(g => (IReadOnlyList<double>)[.. g.Select(r => r.Y)]));
        double[] actual =
        [
            summary.Mean, summary.StandardDeviation!.Value, limits.Lower, limits.Upper, new Ewma(0.1, 1).Of(y)[
                ^1].Value, sums.High, sums.Low,
            .. model.Coefficients, .. Enumerable.Range(0, 4)
                .Select(i => model.StandardError(i)!.Value), model.ResidualDeviation!.Value, model.RSquared, model.F!.Value,
            .. Enumerable.Range(0, 4)
                .Select(i => model.PValue(i)!.Value), model.Leverages[0], added.F!.Value, added.P!.Value, oneWay.F!.Value, oneWay.P!.Value,
            Quantiles.Student(0.975, 3.5), Quantiles.Fisher(
                0.95, 5, 125), Quantiles.ChiSquare(0.95, 9), Analysis.Uncertainty.RangeOfThree.Probability(3.3, [0, 0, 0], [1, 1, 1]),
        ];

        Assert.Equal(expected.Count, actual.Length);
        for (var i = 0; i < actual.Length; i++)
        {
            Assert.True(
                Math.Abs(actual[i] - expected[i]) <= 1e-9 * Math.Max(1, Math.Abs(expected[i])),
                $"number {i}: {actual[i]:R}, by R {expected[i]:R}");
        }
    }

    private static async Task<List<double>> RunAsync(IEnumerable<string> rows)
    {
        using var r = Process.Start(new ProcessStartInfo(
            "/usr/bin/Rscript", ["--vanilla", "-e", Script]) { RedirectStandardInput = true, RedirectStandardOutput = true })!;
        await r.StandardInput.WriteAsync("age,g,y\n" + string.Join('\n', rows) + "\n");
        r.StandardInput.Close();
        var text = await r.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await r.WaitForExitAsync(TestContext.Current.CancellationToken);
        return [.. text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => double.Parse(l, CultureInfo.InvariantCulture))];
    }
}
