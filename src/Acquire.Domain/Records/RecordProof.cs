namespace Acquire.Domain.Records;

/// <summary>What a record must hold beside what its types hold, so that everything can be computed of it. One set of rules: an import asks
/// it before it takes a record, and <c>verify</c> asks it of every record that is stored.</summary>
public static class RecordProof
{
    /// <summary>Means are stored as they were computed; the same reads must give the same to the last digits.</summary>
    private const double Tolerance = 1e-9;

    /// <summary>No density and no difference of densities is as large; source: common practice, no source.</summary>
    private const double LargestDensity = 20;

    private const int MostRevisions = 100_000;
    private const int MostFreedom = 1_000_000;

    /// <summary>The first thing that is wrong with a strip, in words that follow a colon; null when nothing is.</summary>
    public static string? Fault(StripRecord strip)
    {
        // Plain faults first, so that the message names the number that is wrong and not what follows from it.
        return Times(strip)
            .Where(t => t.At.UtcDateTime.Year is < 1900 or >= 2200)
            .Select(t => $"{t.What} is {t.At:u}, and lies between 1900 and 2199")
            .FirstOrDefault()
            ?? Numbers(strip)
                // Turned round, so that what is no number is found too.
                .Where(n => !(Math.Abs(n.Value) <= n.Most))
                .Select(n => FormattableString.Invariant($"{n.What} is {n.Value}, and cannot be"))
                .FirstOrDefault()
            ?? Means(strip);
    }

    private static IEnumerable<(string What, DateTimeOffset At)> Times(StripRecord strip) =>
    [
        ("the time of reading", strip.Provenance.At),
        ("the time of the revision", strip.Revision.At),
        .. from patch in strip.Patches from read in patch.Reads select ("the time of a read", read.Reading.At),
        .. from patch in strip.Patches
           from read in patch.Reads
           from line in read.Reading.Lines.IsDefault ? [] : read.Reading.Lines
           select ("the time of a raw line", line.ReceivedAt),
        .. from patch in strip.Patches
           from exclusion in patch.Reads.Select(r => r.Exclusion).Append(patch.LeftOut).OfType<Exclusion>()
           select ("the time of leaving out", exclusion.At),
        .. from question in strip.Questions
            from at in new[] { question.AskedAt, question.AnsweredAt ?? question.AskedAt } select ("the time of a question", at),
    ];

    private static IEnumerable<(string What, double Value, double Most)> Numbers(StripRecord strip) =>
    [
        ("the number of the revision", strip.Revision.Number, MostRevisions),
        .. from aim in strip.Aims
           from number in new[] { aim.Reference, aim.Correction, aim.Adjustment, aim.StandardUncertainty }
           select ($"a number of the aim of {aim.PatchKey} {aim.Channel.Word()}", number, LargestDensity),
        .. from scatter in strip.Repeatability?.Channels ?? []
           from number in new[] { (scatter.StandardDeviation, LargestDensity), (scatter.DegreesOfFreedom, MostFreedom) }
           select ($"the scatter in {scatter.Channel.Word()}", number.Item1, number.Item2),
        .. from question in strip.Questions select ("the evidence of a question", question.Evidence, 1e6),
    ];

    private static string? Means(StripRecord strip)
    {
        // Made anew of the reads: a mean that is only stored could say anything, and everything is judged by it.
        var expected = PatchMeans.Of(strip.Patches);
        if (expected.Length != strip.Means.Length)
        {
            return $"it has {strip.Means.Length} means, its reads make {expected.Length}";
        }

        var wrong = expected.FirstOrDefault(e => strip.Mean(e.PatchKey, e.Channel) is not { } mean
            || mean.Reads != e.Reads
            || Apart(mean.Mean, e.Mean)
            || Apart(mean.StandardDeviation ?? 0, e.StandardDeviation ?? 0)
            || Apart(mean.Resolution, e.Resolution));
        return wrong is null ? null : $"the mean of {wrong.PatchKey} {wrong.Channel.Word()} does not follow from its reads";
    }

    private static bool Apart(double one, double other) => !(Math.Abs(one - other) <= Tolerance);
}
