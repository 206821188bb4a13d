namespace Acquire.Instruments.Simulation;

/// <summary>What is true of simulated strips: the densities on aim, what the process does to them, and how all scatters. Pure.</summary>
/// <param name="Name">The short word used in commands, such as <c>on-aim</c>.</param>
/// <param name="Title">What has happened, in a few words.</param>
/// <param name="Patches">The patches in reading order.</param>
/// <param name="AgeInDays">How old the solution is when the first strip is processed.</param>
/// <param name="DaysPerStrip">How much older it is at each further strip.</param>
/// <param name="Noise">How it scatters.</param>
public sealed record FilmStory(
    string Name, string Title, ImmutableArray<FilmPatch> Patches, double AgeInDays, double DaysPerStrip, FilmNoise Noise)
{
    public StripLayout Layout => new("Colour-negative control strip (simulated)", [.. Patches.Select(p => p.Patch)]);

    /// <summary>The true densities of one strip: the same seed and number give the same strip.</summary>
    /// <param name="seed">Any number.</param>
    /// <param name="index">Number of the strip, from 0.</param>
    public FilmStrip Strip(int seed, int index)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(index);
        var age = AgeInDays + (index * DaysPerStrip);
        var run = new SeededChance(seed, index).Next(Noise.Run);
        return new FilmStrip(
            Patches.ToImmutableDictionary(
                p => p.Patch.Key,
                p => p.OnAim + p.Effect + (age * p.EffectPerDay) + Rgb.All(p.RunWeight * run),
                StringComparer.OrdinalIgnoreCase),
            Noise);
    }
}

/// <summary>One patch of a simulated strip, and what the process does to it.</summary>
/// <param name="OnAim">Its densities when the process is on aim.</param>
/// <param name="Effect">What the state of the process adds.</param>
/// <param name="EffectPerDay">What each day of age adds to that.</param>
/// <param name="RunWeight">How strongly the run-to-run scatter moves it: 1 at LD.</param>
public sealed record FilmPatch(Patch Patch, Rgb OnAim, Rgb Effect, Rgb EffectPerDay, double RunWeight);

/// <summary>One processed strip with its true densities.</summary>
/// <param name="Densities">The true densities by key of patch.</param>
/// <param name="Noise">How readings of it scatter.</param>
public sealed record FilmStrip(ImmutableDictionary<string, Rgb> Densities, FilmNoise Noise)
{
    private const double LeastShown = -0.05;
    private const double LargestShown = 5;

    // Rough share of each colour in a visual density; invented, for instruments that send a visual channel.
    private static readonly Rgb VisualShare = new(0.30, 0.60, 0.10);

    /// <summary>One reading as an instrument shows it: the strip placed anew, each channel read, rounded half away from zero.</summary>
    /// <param name="patchKey">The patch.</param>
    /// <param name="chance">Where the scatter comes from; each reading takes the next draws.</param>
    /// <param name="decimals">Decimals shown, 0 … 6.</param>
    /// <exception cref="ArgumentException">The strip has no such patch.</exception>
    public ChannelDensities Read(string patchKey, SeededChance chance, int decimals)
    {
        if (!Densities.TryGetValue(patchKey, out var truth))
        {
            throw new ArgumentException(
                $"The simulated strip has no patch '{patchKey}'; it has {string.Join(", ", Densities.Keys.Order())}.", nameof(patchKey));
        }

        var placed = truth + Rgb.All(chance.Next(Noise.Placement));
        var visual = (VisualShare.Red * placed.Red) + (VisualShare.Green * placed.Green) + (VisualShare.Blue * placed.Blue);
        return new ChannelDensities(Show(placed.Red), Show(placed.Green), Show(placed.Blue), Show(visual));

        Density Show(double density)
        {
            var read = Math.Clamp(density + chance.Next(Noise.Reading), LeastShown, LargestShown);
            var unit = new decimal(1, 0, 0, isNegative: false, (byte)decimals);
            return new Density(decimal.Round((decimal)read / unit, MidpointRounding.AwayFromZero) * unit);
        }
    }
}

/// <summary>The scatter of a simulated process and instrument: standard deviations in density.</summary>
/// <remarks>The figures are plausible for a small lab and a bench densitometer; common practice, no source.</remarks>
public sealed record FilmNoise
{
    /// <summary>From strip to strip at one state of the process, the same in the three colours; weighted by patch. Default 0.012.</summary>
    public double Run { get; init; } = 0.012;

    /// <summary>From one placing of the strip to the next, the same in the three colours. Default 0.006.</summary>
    public double Placement { get; init; } = 0.006;

    /// <summary>Of each channel of each reading. Default 0.006.</summary>
    public double Reading { get; init; } = 0.006;

    /// <summary>The standard deviation of re-placed readings of one patch in one channel, rounding not counted.</summary>
    public double Repeatability => Math.Sqrt((Placement * Placement) + (Reading * Reading));
}

/// <summary>Three densities, or differences of densities, of the colours.</summary>
public readonly record struct Rgb(double Red, double Green, double Blue)
{
    public static Rgb All(double value) => new(value, value, value);

    /// <exception cref="ArgumentOutOfRangeException">The channel is no colour.</exception>
    public double this[Channel channel] => channel switch
    {
        Channel.Red => Red,
        Channel.Green => Green,
        Channel.Blue => Blue,
        _ => throw new ArgumentOutOfRangeException(nameof(channel), channel, null),
    };

    public static Rgb operator +(Rgb left, Rgb right) => new(left.Red + right.Red, left.Green + right.Green, left.Blue + right.Blue);

    public static Rgb operator -(Rgb left, Rgb right) => new(left.Red - right.Red, left.Green - right.Green, left.Blue - right.Blue);

    public static Rgb operator *(double factor, Rgb value) => new(factor * value.Red, factor * value.Green, factor * value.Blue);
}
