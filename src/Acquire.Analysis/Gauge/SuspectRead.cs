namespace Acquire.Analysis.Gauge;

/// <summary>A read that lies farther from the others of its patch than chance explains. It is named, never dropped.</summary>
/// <param name="Patch">Key of the patch.</param>
/// <param name="Channel">The channel.</param>
/// <param name="Number">Number of the read.</param>
/// <param name="Placement">Its placement; null when every read was placed anew.</param>
/// <param name="Value">What it showed.</param>
/// <param name="G">Distance from the patch's mean, in standard deviations of the patch.</param>
/// <param name="Critical">The distance that chance exceeds once in twenty.</param>
/// <param name="P">Chance of a read this far out, an upper bound.</param>
public sealed record SuspectRead(
    string Patch, Channel Channel, int Number, int? Placement, decimal Value, double G, double Critical, double P)
{
    /// <summary>
    /// Whether chance shows such a read once in a hundred tests or less; else it is a straggler (ISO 5725-2 tells the two apart so).
    /// </summary>
    public bool IsOutlier => P <= 0.01;
}
