namespace Acquire.Analysis.Charts;

/// <summary>The stretch of the date axis over which strips of one lot were used.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where it ends: at the beginning of the next.</param>
/// <param name="Lot">Code number of the lot.</param>
public sealed record LotBand(double From, double To, string Lot);

/// <summary>
/// A chart of deviations, a panel for each parameter and a line for each channel. Every output, on paper, screen or terminal, is drawn from
/// this one model.
/// </summary>
public sealed record ChartModel
{
    /// <summary>What it is of.</summary>
    public required string Title { get; init; }

    /// <summary>What strips are charted against.</summary>
    public required ChartAxis Axis { get; init; }

    /// <summary>From where to where the axis goes.</summary>
    public required ChartRange Range { get; init; }

    /// <summary>The panels from top to bottom, see <see cref="PanelOrder"/>.</summary>
    public required ImmutableArray<ChartPanel> Panels { get; init; }

    /// <summary>The lots, in order; only on the date axis, as lots come into use by date.</summary>
    public ImmutableArray<LotBand> Lots { get; init; } = [];

    /// <summary>The events, in order; only on the date axis.</summary>
    public ImmutableArray<EventMark> Events { get; init; } = [];

    /// <summary>How many strips have a place on the axis.</summary>
    public required int Strips { get; init; }

    /// <summary>How many strips have none, because the books do not tell it.</summary>
    public required int WithoutPlace { get; init; }

    /// <summary>What the reader should know, a sentence each.</summary>
    public required ImmutableArray<string> Notes { get; init; }

    /// <summary>Makes the chart.</summary>
    /// <exception cref="Acquire.Domain.ImpossibleValueException">A parameter is asked for that the sheet does not have.</exception>
    public static ChartModel Of(ChartRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        return new ChartBuilder(request).Build();
    }
}
