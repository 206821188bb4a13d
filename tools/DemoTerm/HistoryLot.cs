using Acquire.Instruments.Simulation;

namespace DemoTerm;

/// <summary>A strip lot of the history, with what is true of it. Invented.</summary>
/// <param name="Code">Its code number.</param>
/// <param name="Shift">How far its aims lie from those of <see cref="DemoFilm"/>, the same for all patches but D-min.</param>
/// <param name="Bias">
/// How much more contrast its strips give than its sheet says, which only a crossover shows; in density at HD and D-max.
/// </param>
/// <param name="Strips">How many came in the box.</param>
internal sealed record HistoryLot(string Code, Rgb Shift, double Bias, int Strips)
{
    /// <summary>The lot in use when the term begins.</summary>
    public static HistoryLot Old { get; } = new("2417", default, 0, 40);

    /// <summary>The lot that comes after it.</summary>
    public static HistoryLot New { get; } = new("2431", new Rgb(0.02, -0.01, 0.03), 0.06, 40);

    /// <summary>The lot with the correction factors of its sheet.</summary>
    /// <param name="sheet">The process sheet.</param>
    /// <param name="expires">Its last day.</param>
    public StripLot ToLot(ProcessSheet sheet, DateOnly expires) => new(
        Code,
        sheet.Key,
        sheet.Layout,
        [
            .. from patch in DemoFilm.Corrections
               orderby patch.Key
               from channel in new[] { Channel.Red, Channel.Green, Channel.Blue }
               where patch.Value[channel] != 0
               select new CorrectionFactor(patch.Key, channel, patch.Value[channel]),
        ],
        expires,
        "in the cold as the sheet in the box says; warm up closed");

    /// <summary>The densities of its reference strip: the aims less the correction factors.</summary>
    public ImmutableDictionary<string, Rgb> Reference => DemoFilm.Aims.ToImmutableDictionary(
        a => a.Key, a => Aim(a.Key) - DemoFilm.Corrections[a.Key], StringComparer.OrdinalIgnoreCase);

    /// <summary>The densities of a strip that a process on aim gives, by key of patch.</summary>
    public Rgb OnAim(string key) => Aim(key) + Rgb.All(key is DemoFilm.High or DemoFilm.DMax ? Bias : 0);

    private Rgb Aim(string key) => DemoFilm.Aims[key] + (key == DemoFilm.DMin ? default : Shift);
}
