namespace Acquire.Instruments.Simulation;

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
        ArgumentNullException.ThrowIfNull(chance);
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
