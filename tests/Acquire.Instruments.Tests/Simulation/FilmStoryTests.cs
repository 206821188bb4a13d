using Acquire.Instruments.Simulation;

namespace Acquire.Instruments.Tests.Simulation;

public sealed class FilmStoryTests
{
    private static readonly FilmNoise Still = new() { Run = 0, Placement = 0, Reading = 0 };

    public static TheoryData<string> Stories() => [.. FilmStories.All.Select(s => s.Name)];

    [Theory]
    [MemberData(nameof(Stories))]
    public void Same_seed_gives_the_same_strips_and_readings(string name) => Gen.Select(Gen.Int, Gen.Int[0, 1000]).Sample((seed, index) =>
    {
        var story = FilmStories.Get(name);
        return Readings(story.Strip(seed, index), seed).SequenceEqual(Readings(story.Strip(seed, index), seed));
    });

    [Fact]
    public void Other_seed_or_number_gives_another_strip()
    {
        var story = FilmStories.OnAim;
        var strips = from seed in Enumerable.Range(0, 20)
            from index in Enumerable.Range(0, 20) select story.Strip(seed, index).Densities[DemoFilm.Low];

        Assert.Equal(400, strips.Distinct().Count());
    }

    // A masked negative's neutral densities are ordered B > G > R: common practice, no source.
    [Theory]
    [MemberData(nameof(Stories))]
    public void Neutral_densities_are_ordered_and_possible(string name) => Gen.Int.Sample(seed =>
    {
        var strip = FilmStories.Get(name).Strip(seed, 0);
        return strip.Densities.Where(d => d.Key != DemoFilm.Yellow).All(d => d.Value.Blue > d.Value.Green && d.Value.Green > d.Value.Red)
            && strip.Densities[DemoFilm.Yellow] is var y && y.Blue > y.Green + 1;
    });

    [Fact]
    public void Reference_strip_and_correction_factors_make_the_aims()
    {
        var reference = FilmStories.Reference.Strip(1, 0);

        Assert.All(
            DemoFilm.Aims,
            aim => Assert.Equal(0, Largest(reference.Densities[aim.Key] + DemoFilm.Corrections[aim.Key] - aim.Value), 1e-12));
    }

    // Limits of the colour-negative control strip, action/control: D-min 0.03/0.05, LD 0.06/0.08, HD − LD 0.07/0.09,
    // D-max B − yellow B 0.10/0.12. Common practice, from memory.
    [Theory]
    [InlineData("on-aim", 0, 0, 0, 0)]
    [InlineData("full-bottles", 0.0044, -0.00825, -0.01925, 0)]
    [InlineData("half-full-bottle", 0.0176, -0.033, -0.077, 0)] // HD − LD in the action zone
    [InlineData("fixer-in-developer", 0.11, 0.07, 0.03, 0)] // D-min out
    [InlineData("bleach-dying", 0.005, 0.02, 0.05, 0.14)] // D-max B − yellow B out
    public void Story_moves_the_parameters_as_told(string name, double dmin, double low, double contrast, double silver)
    {
        var strip = (FilmStories.Get(name) with { Noise = Still }).Strip(1, 0);
        double Blue(string key) => strip.Densities[key].Blue - DemoFilm.Aims[key].Blue;

        Assert.Equal(dmin, Blue(DemoFilm.DMin), 1e-9);
        Assert.Equal(low, Blue(DemoFilm.Low), 1e-9);
        Assert.Equal(contrast, Blue(DemoFilm.High) - Blue(DemoFilm.Low), 1e-9);
        Assert.Equal(silver, Blue(DemoFilm.DMax) - Blue(DemoFilm.Yellow), 1e-9);
    }

    // 99.9 % bounds of s²(n−1)/σ², chi-square with 1999 degrees of freedom: 1797.5 and 2213.6 (Wilson–Hilferty).
    [Fact]
    public void Scatter_has_the_stated_standard_deviations()
    {
        var story = FilmStories.OnAim;
        var low = Enumerable.Range(0, 2000).Select(i => story.Strip(7, i).Densities[DemoFilm.Low]).ToArray();
        var high = Enumerable.Range(0, 2000).Select(i => story.Strip(7, i).Densities[DemoFilm.High]).ToArray();
        var strip = (story with { Noise = story.Noise with { Run = 0 } }).Strip(7, 0);
        var chance = new SeededChance(7, 1);
        var reads = Enumerable.Range(0, 2000).Select(_ => strip.Read(DemoFilm.High, chance, 6)).ToArray();

        Within(0.012, low.Select(d => d.Red));
        Within(0.012 * 1.5, high.Select(d => d.Red));
        Within(story.Noise.Repeatability, reads.Select(r => r.Red!.Value.ToDouble()));
        Within(
            Math.Sqrt(2) * story.Noise.Reading, reads.Select(r => r.Red!.Value.ToDouble() - r.Blue!.Value.ToDouble())); // placing cancels
        Assert.All(low, d => Assert.Equal(0.38, d.Green - d.Red, 1e-9)); // run-to-run scatter is common to the colours
    }

    // A fair sample of the standard normal distribution: mean 0, fourth moment 3, share beyond 1.959964 of 5 % (tables of the
    // distribution).
    [Fact]
    public void Chance_is_normally_distributed()
    {
        var chance = new SeededChance(11, 3);
        var draws = Enumerable.Range(0, 100_000).Select(_ => chance.Next(1)).ToArray();

        Assert.Equal(0, draws.Average(), 0.0125);
        Assert.Equal(3, draws.Average(x => Math.Pow(x, 4)), 0.125);
        Assert.Equal(0.05, draws.Count(x => Math.Abs(x) > 1.959964) / 100_000.0, 0.003);
    }

    [Theory]
    [InlineData(2, "0.26")]
    [InlineData(3, "0.260")]
    [InlineData(1, "0.3")]
    [InlineData(0, "0")]
    public void Reading_shows_its_decimals(int decimals, string expected)
    {
        var strip = (FilmStories.OnAim with { Noise = Still }).Strip(1, 0);

        Assert.Equal(expected, strip.Read("DMIN", new SeededChance(1, 0), decimals).Red.ToString());
    }

    [Fact]
    public void Unknown_patch_and_story_list_what_there_is()
    {
        Assert.Contains("dmax, dmin, hd, ld, yellow", Assert.Throws<ArgumentException>(
            () => FilmStories.OnAim.Strip(1, 0).Read("md", new SeededChance(1, 0), 2)).Message, StringComparison.Ordinal);
        Assert.Contains("on-aim", Assert.Throws<ArgumentException>(() => FilmStories.Get("sunny")).Message, StringComparison.Ordinal);
    }

    private static IEnumerable<ChannelDensities> Readings(FilmStrip strip, int seed)
    {
        var chance = new SeededChance(seed, 99);
        return [.. DemoFilm.Patches.Select(p => strip.Read(p.Key, chance, 2))];
    }

    private static double Largest(Rgb difference) => Channels.Colours.Max(c => Math.Abs(difference[c]));

    private static void Within(double sigma, IEnumerable<double> values)
    {
        var all = values.ToArray();
        var mean = all.Average();
        var ratio = all.Sum(v => Math.Pow(v - mean, 2)) / (sigma * sigma);
        Assert.InRange(ratio, 1797.5, 2213.6);
    }
}
