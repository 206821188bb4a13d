namespace Acquire.Storage.Strips;

internal sealed record StripRow : RevisionRow
{
    public string StripId { get; init; } = "";

    public string LayoutName { get; init; } = "";

    public string ProcessHash { get; init; } = "";

    public string? ReferenceId { get; init; }

    public string? CheckId { get; init; }

    public string? CheckLacking { get; init; }

    public string? RepeatabilityId { get; init; }
}

internal sealed record MeanRow
{
    public long RevisionId { get; init; }

    public string PatchKey { get; init; } = "";

    public string Channel { get; init; } = "";

    public double Mean { get; init; }

    public int Reads { get; init; }

    public double? StandardDeviation { get; init; }

    public double Resolution { get; init; }

    public PatchMean ToMean() => new(PatchKey, Words<Channel>.Parse(Channel), Mean, Reads, StandardDeviation, Resolution);
}

internal sealed record ScatterRow
{
    public long RevisionId { get; init; }

    public string Channel { get; init; } = "";

    public double StandardDeviation { get; init; }

    public int DegreesOfFreedom { get; init; }

    public ChannelScatter ToScatter() => new(Words<Channel>.Parse(Channel), StandardDeviation, DegreesOfFreedom);
}

internal sealed record AimRow
{
    public long RevisionId { get; init; }

    public string PatchKey { get; init; } = "";

    public string Channel { get; init; } = "";

    public double Reference { get; init; }

    public double Correction { get; init; }

    public double Adjustment { get; init; }

    public double StandardUncertainty { get; init; }

    public Aim ToAim() =>
        new(PatchKey, Words<Channel>.Parse(Channel), Reference, Correction, StandardUncertainty) { Adjustment = Adjustment };
}
