using System.Diagnostics.Metrics;

namespace Acquire.Storage.Files;

/// <summary>
/// How the writing goes, for whoever watches over the service. Of the whole process, since a command opens its store without a host; where
/// nobody listens, it costs a look at a flag.
/// </summary>
internal static class StoreMeters
{
    public const string MeterName = "Acquire.Storage";

    /// <summary>Semantic conventions: why it failed; not there where it did not.</summary>
    public const string ErrorAttribute = "error.type";

    private static readonly Meter Meter = new(MeterName);

    /// <summary>
    /// From the beginning of a transaction to the end of its commit, which waits for the disk. Bounds as the conventions ask for durations
    /// of requests, from 1 ms, as a disk without moving parts needs less than five.
    /// </summary>
    public static readonly Histogram<double> CommitDuration = Meter.CreateHistogram(
        "acquire.store.commit.duration", "s", "How long a write to the store took, with its commit.",
        advice: new InstrumentAdvice<double>
        {
            HistogramBucketBoundaries = [0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.075, 0.1, 0.25, 0.5, 0.75, 1, 2.5, 5, 7.5, 10],
        });

    private static long _waiting;

    static StoreMeters() => Meter.CreateObservableUpDownCounter(
        "acquire.store.queue.length", () => Interlocked.Read(ref _waiting), "{write}", "Writes that were asked for and are not done.");

    /// <summary>Makes the meters known, so that an empty queue is told too.</summary>
    public static void Begin()
    {
    }

    public static void Asked() => Interlocked.Increment(ref _waiting);

    public static void Done() => Interlocked.Decrement(ref _waiting);

    public static void Committed(TimeSpan took) => CommitDuration.Record(took.TotalSeconds);

    public static void Failed(TimeSpan after, Exception fault)
    {
        var why = fault is StoreException known ? known.Fault.ToString() : fault.GetType().FullName;
        CommitDuration.Record(after.TotalSeconds, new KeyValuePair<string, object?>(ErrorAttribute, why));
    }
}
