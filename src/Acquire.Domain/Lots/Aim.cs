namespace Acquire.Domain.Lots;

/// <summary>The aim of one patch and channel: the average reading of the reference strip plus the correction factor (US
/// Navy <i>Photography (Advanced)</i>, US Army SS0514).</summary>
public sealed record Aim
{
    /// <exception cref="ImpossibleValueException">A number is not finite, or the uncertainty is below zero.</exception>
    public Aim(string patchKey, Channel channel, double reference, double correction, double standardUncertainty)
    {
        PatchKey = Guard.Text(patchKey, "The patch of an aim");
        Channel = channel;
        Reference = Guard.Finite(reference, "A reference reading");
        Correction = Guard.Finite(correction, "A correction factor");
        StandardUncertainty = Guard.Finite(standardUncertainty, "The uncertainty of an aim") >= 0
            ? standardUncertainty
            : throw new ImpossibleValueException("The uncertainty of an aim is not below zero.");
    }

    public string PatchKey { get; }

    public Channel Channel { get; }

    /// <summary>Average density of the reference strip.</summary>
    public double Reference { get; }

    /// <summary>The lot's correction factor, added to the reference.</summary>
    public double Correction { get; }

    /// <summary>What a crossover from the lot before adds, in density, with its sign; 0 when none was accepted.</summary>
    public double Adjustment { get; init; }

    /// <summary>Standard uncertainty of the aim, in density: of the reference reading,
    /// or of the adjusted aim where there is an adjustment.</summary>
    public double StandardUncertainty { get; }

    /// <summary>The aim density: reference plus correction, plus the adjustment of a crossover.</summary>
    public double Value => Reference + Correction + Adjustment;
}

/// <summary>A crossover that the user accepted: what the strips of the lot before say the aims of a new lot should be moved by. It belongs
/// to one reference reading; aims from a later reading are not moved by it.</summary>
public sealed record AimAdjustment
{
    /// <exception cref="ImpossibleValueException">A text is empty, both lots are one,
    /// there are no values or pairs, or one stands twice.</exception>
    public AimAdjustment(
        Guid id, string lotCode, Guid referenceId, string fromLotCode, ImmutableArray<AdjustedAim> values,
        ImmutableArray<StripPair> pairs, string by, DateTimeOffset at, string reason)
    {
        (Id, ReferenceId, At) = (id, referenceId, at);
        LotCode = Guard.Text(lotCode, "The new lot of a crossover");
        FromLotCode = Guard.Text(fromLotCode, "The old lot of a crossover");
        // A lot that is adjusted by itself would move its aims by its own scatter, again and again.
        Guard.That(!Keys.Same(LotCode, FromLotCode), "A crossover goes from one lot to another.");
        Values = Guard.NotEmpty(values, "The values of a crossover");
        Guard.Unique(Values, v => $"{v.PatchKey} {v.Channel.Word()}", "The adjustment");
        // What it rests on is kept with it, so that a crossover can be judged again when a strip of it is corrected.
        Pairs = Guard.NotEmpty(pairs, "The pairs of a crossover");
        Guard.Unique(Pairs, p => $"{p.Old} {p.New}", "The pair");
        By = Guard.Text(by, "The person of a crossover");
        Reason = Guard.Text(reason, "The reason of a crossover");
    }

    /// <summary>UUID v7.</summary>
    public Guid Id { get; }

    /// <summary>The lot whose aims it moves.</summary>
    public string LotCode { get; }

    /// <summary>The reference reading whose aims it moves.</summary>
    public Guid ReferenceId { get; }

    /// <summary>The lot before.</summary>
    public string FromLotCode { get; }

    /// <summary>By how much, patch by patch and channel by channel.</summary>
    public ImmutableArray<AdjustedAim> Values { get; }

    /// <summary>The pairs that it rests on.</summary>
    public ImmutableArray<StripPair> Pairs { get; }

    public string By { get; }

    public DateTimeOffset At { get; }

    public string Reason { get; }

    /// <summary>The adjustment of one patch and channel; null when there is none.</summary>
    public AdjustedAim? Of(string patchKey, Channel channel) =>
        Values.FirstOrDefault(v => v.Channel == channel && Keys.Same(v.PatchKey, patchKey));
}

/// <summary>By how much the aim of one patch and channel is moved.</summary>
/// <param name="Value">Added to reference and correction, in density, with its sign.</param>
/// <param name="StandardUncertainty">Standard uncertainty of the aim so moved, in density.</param>
public sealed record AdjustedAim(string PatchKey, Channel Channel, double Value, double StandardUncertainty);

/// <summary>A strip of the old lot and one of the new that were processed together.</summary>
/// <param name="Old">The strip of the old lot.</param>
/// <param name="New">The strip of the new lot.</param>
public sealed record StripPair(Guid Old, Guid New);
