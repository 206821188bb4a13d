namespace Acquire.Analysis.Judgement;

/// <summary>How the values behind a lot's aims came about, said in one place.</summary>
public static class ReferenceWords
{
    /// <summary>In a sentence.</summary>
    public static string Origin(LotReference reference) => reference switch
    {
        { BaselineStrips: { IsEmpty: false } strips } =>
            $"Its values are means over {Numbers.Count(strips.Length, "strip")}; how those scatter is counted.",
        { Provenance.Instrument: { } instrument } => $"Its values were read with {instrument.Name}.",
        { Origin.ListUncertainty: { } list } => string.Create(
            CultureInfo.InvariantCulture, $"Its values are of the maker's list, each taken as known to u = {list:0.000#}."),
        { Origin: { Reads: { } reads } origin } => origin.Instrument is { } read
            ? $"Each entered value is the mean of {Numbers.Count(reads, "read")} with {read}."
            : $"Each entered value is the mean of {Numbers.Count(reads, "read")} with an instrument that was not named, so how it repeats "
                + "is assumed (common practice).",
        _ => "Nobody said how its values were read: each counts as one read, and how the instrument repeats is assumed (common practice). "
            + "Say it when they are entered: --reads N --instrument NAME, or --from-list --uncertainty U.",
    };
}
