namespace Acquire.Domain.Processes;

/// <summary>Something taken of the curve of density over log exposure that the patches with a log exposure draw.</summary>
public abstract record CurveParameter : Parameter
{
    private protected CurveParameter(
        string key, string name, string standsFor, string? basePatchKey, ImmutableArray<Channel> channels, ParameterLimits limits)
        : base(key, name, standsFor, channels, limits) =>
        BasePatchKey = basePatchKey is null ? null : Guard.Text(basePatchKey, $"The base patch of {name}");

    /// <summary>Key of the patch above whose density densities are counted, mostly D-min; null when none is needed.</summary>
    public string? BasePatchKey { get; }

    /// <inheritdoc/>
    public override bool IsOfCurve => true;

    /// <inheritdoc/>
    public override ImmutableArray<string> PatchKeys => BasePatchKey is { } key ? [key] : [];

    /// <inheritdoc/>
    public override T Match<T>(
        Func<PatchParameter, T> patch,
        Func<DifferenceParameter, T> difference, Func<SpreadParameter, T> spread, Func<CurveParameter, T> curve) => curve(this);

    /// <summary>Asks for what a layer does with each kind of curve parameter.</summary>
    public abstract T Match<T>(Func<GradientParameter, T> gradient, Func<SlopeParameter, T> slope, Func<SpeedPointParameter, T> speedPoint);
}

/// <summary>The average gradient between two points of the curve: difference of density over difference of log exposure.</summary>
public sealed record GradientParameter : CurveParameter
{
    /// <exception cref="ImpossibleValueException">A name or the channels are empty, a channel is named twice, both points are one, the
    /// first lies beyond itself, or the base patch is missing.</exception>
    public GradientParameter(
        string key, string name, string standsFor, CurvePoint from, CurvePoint to, string? basePatchKey,
        ImmutableArray<Channel> channels, ParameterLimits limits)
        : base(key, name, standsFor, basePatchKey, channels, limits)
    {
        From = from is null or BeyondFirst
            ? throw new ImpossibleValueException($"The first point of {Name} lies at a log exposure or at a density above the base.")
            : from;
        To = to ?? throw new ImpossibleValueException($"{Name} needs a second point.");
        Guard.That(
            BasePatchKey is not null || (from is not AboveBase && to is not AboveBase),
            $"{Name} counts from a density above the base, so it needs a base patch.");
        Guard.That(from != to, $"{Name} needs two different points.");
    }

    public CurvePoint From { get; }

    public CurvePoint To { get; }

    /// <inheritdoc/>
    public override string Kind => "gradient";

    /// <inheritdoc/>
    public override string MadeOf => $"curve, {From.InWords(BasePatchKey)} to {To.InWords(BasePatchKey)}";

    /// <inheritdoc/>
    public override string Unit => "density per log H";

    /// <inheritdoc/>
    public override T Match<T>(
        Func<GradientParameter, T> gradient, Func<SlopeParameter, T> slope, Func<SpeedPointParameter, T> speedPoint) => gradient(this);
}

/// <summary>The slope of the straight part: the least-squares line through the steps from one patch to another.</summary>
public sealed record SlopeParameter : CurveParameter
{
    /// <exception cref="ImpossibleValueException">A name or the channels are empty, a
    /// channel is named twice, or both patches are one.</exception>
    public SlopeParameter(
        string key, string name, string standsFor, string fromPatchKey, string toPatchKey, ImmutableArray<Channel> channels,
        ParameterLimits limits)
        : base(key, name, standsFor, null, channels, limits)
    {
        FromPatchKey = Guard.Text(fromPatchKey, $"The first patch of {name}");
        ToPatchKey = TwoPatches(FromPatchKey, Guard.Text(toPatchKey, $"The last patch of {name}"), Name);
    }

    /// <summary>Key of the patch at one end of the straight part.</summary>
    public string FromPatchKey { get; }

    public string ToPatchKey { get; }

    /// <inheritdoc/>
    public override string Kind => "slope";

    /// <inheritdoc/>
    public override string MadeOf => $"curve, {FromPatchKey} to {ToPatchKey}";

    /// <inheritdoc/>
    public override ImmutableArray<string> PatchKeys => [FromPatchKey, ToPatchKey];

    /// <inheritdoc/>
    public override string Unit => "density per log H";

    /// <inheritdoc/>
    public override T Match<T>(
        Func<GradientParameter, T> gradient, Func<SlopeParameter, T> slope, Func<SpeedPointParameter, T> speedPoint) => slope(this);
}

/// <summary>The speed point: the log exposure at which the density is so much above that of the base patch.</summary>
public sealed record SpeedPointParameter : CurveParameter
{
    /// <exception cref="ImpossibleValueException">A name, the base patch or the channels are empty, a channel
    /// is named twice, or the density is not above zero.</exception>
    public SpeedPointParameter(
        string key, string name, string standsFor, AboveBase at, string basePatchKey, ImmutableArray<Channel> channels,
        ParameterLimits limits)
        // An empty key and not null, which would mean that it needs none: the guard refuses it.
        : base(key, name, standsFor, basePatchKey ?? "", channels, limits) =>
        At = at ?? throw new ImpossibleValueException($"{Name} needs a density above the base.");

    /// <summary>The density at which the point lies.</summary>
    public AboveBase At { get; }

    /// <inheritdoc/>
    public override string Kind => "speedPoint";

    /// <inheritdoc/>
    public override string MadeOf => $"curve, at {At.InWords(BasePatchKey)}";

    /// <inheritdoc/>
    public override string Unit => "log H";

    /// <inheritdoc/>
    public override T Match<T>(
        Func<GradientParameter, T> gradient, Func<SlopeParameter, T> slope, Func<SpeedPointParameter, T> speedPoint) => speedPoint(this);
}

/// <summary>How a place on the curve of density over log exposure is found.</summary>
public abstract record CurvePoint
{
    private protected CurvePoint() { }

    /// <summary>The place in words, such as <c>0.1 above dmin</c>.</summary>
    /// <param name="basePatchKey">Key of the base patch; null when there is none.</param>
    public abstract string InWords(string? basePatchKey);

    /// <summary>Asks for what a layer does with each kind.</summary>
    public abstract T Match<T>(Func<AtLogH, T> at, Func<AboveBase, T> above, Func<BeyondFirst, T> beyond);
}

/// <summary>At a log exposure, on the scale of the layout.</summary>
public sealed record AtLogH : CurvePoint
{
    /// <exception cref="ImpossibleValueException">The log exposure is not finite.</exception>
    public AtLogH(double logH) => LogH = Guard.Sane(logH, "A log exposure");

    public double LogH { get; }

    /// <inheritdoc/>
    public override string InWords(string? basePatchKey) => FormattableString.Invariant($"log H {LogH}");

    /// <inheritdoc/>
    public override T Match<T>(Func<AtLogH, T> at, Func<AboveBase, T> above, Func<BeyondFirst, T> beyond) => at(this);
}

/// <summary>Where the density is so much above that of the base patch, mostly D-min.</summary>
public sealed record AboveBase : CurvePoint
{
    /// <exception cref="ImpossibleValueException">The density is not above zero.</exception>
    public AboveBase(double density) => Density = Guard.Sane(density, "A density above the base") > 0
        ? density
        : throw new ImpossibleValueException("A density above the base is more than 0.");

    /// <summary>Density above the base patch.</summary>
    public double Density { get; }

    /// <inheritdoc/>
    public override string InWords(string? basePatchKey) => FormattableString.Invariant($"{Density} above {basePatchKey}");

    /// <inheritdoc/>
    public override T Match<T>(Func<AtLogH, T> at, Func<AboveBase, T> above, Func<BeyondFirst, T> beyond) => above(this);
}

/// <summary>So much log exposure beyond the first point.</summary>
public sealed record BeyondFirst : CurvePoint
{
    /// <exception cref="ImpossibleValueException">The step is not finite, or zero.</exception>
    public BeyondFirst(double deltaLogH) => DeltaLogH = Guard.Sane(deltaLogH, "A step of log exposure") != 0
        ? deltaLogH
        : throw new ImpossibleValueException("The second point of a gradient lies beyond the first, not on it.");

    /// <summary>The step in log exposure.</summary>
    public double DeltaLogH { get; }

    /// <inheritdoc/>
    public override string InWords(string? basePatchKey) => FormattableString.Invariant($"log H {DeltaLogH:+0.###;-0.###}");

    /// <inheritdoc/>
    public override T Match<T>(Func<AtLogH, T> at, Func<AboveBase, T> above, Func<BeyondFirst, T> beyond) => beyond(this);
}
