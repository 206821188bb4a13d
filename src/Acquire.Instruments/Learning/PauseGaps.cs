using Acquire.Instruments.Captures;

namespace Acquire.Instruments.Learning;

/// <summary>Finds from the times of a capture which pauses may end lines.</summary>
internal static class PauseGaps
{
    private const double Clear = 3;
    private const int MostCandidates = 3;

    /// <summary>
    /// Adapters and systems hand bytes over in parcels up to so far apart, whatever the instrument does (common practice, no source).
    /// </summary>
    private static readonly TimeSpan Parcel = TimeSpan.FromMilliseconds(20);

    /// <summary>Waiting longer for the end of a line than this helps only where the pauses within lines are long too.</summary>
    private static readonly TimeSpan LongEnough = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(60);

    /// <summary>
    /// The pauses that may end a line, whole milliseconds, the clearest first: each lies between two pauses of the capture of which one is
    /// three
    /// times as long as the other at least, and none that was seen lies between them. Empty where no pause stands out.
    /// </summary>
    public static ImmutableArray<TimeSpan> Of(ImmutableArray<CaptureChunk> chunks)
    {
        var pauses = chunks.Skip(1).Select((c, i) => c.At - chunks[i].At).Where(p => p > Parcel).Append(Parcel).Order().ToList();
        return
        [
            .. pauses.Zip(pauses.Skip(1)).Where(p => p.Second >= p.First * Clear && p.First <= Longest / 2)
                .OrderByDescending(p => p.Second / p.First).Take(MostCandidates).Select(p => Between(p.First, p.Second)),
        ];
    }

    private static TimeSpan Between(TimeSpan within, TimeSpan between)
    {
        var middle = within * Math.Sqrt(between / within);
        var most = within * 2 > LongEnough ? within * 2 : LongEnough;
        return TimeSpan.FromMilliseconds(Math.Floor((middle < most ? middle : most).TotalMilliseconds));
    }
}
