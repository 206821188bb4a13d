namespace Acquire.Domain.Processes;

/// <summary>Something taken of the curve of density over log exposure that the patches with a log exposure draw.</summary>
public abstract record CurveParameter : Parameter
{
    private protected CurveParameter(
        string key, string name, string standsFor, string? basePatchKey, ImmutableArray<Channel> channels, ParameterLimits limits)
        : base(key, name, standsFor, limits)
    {
        BasePatchKey = basePatchKey is null ? null : Guard.Text(basePatchKey, $"The base patch of {name}");
        Channels = Guard.NotEmpty(channels, $"The channels of {name}");
        Guard.Unique(Channels, c => c.Word(), $"In {name} the channel");
    }

    /// <summary>Key of the patch above whose density densities are counted, mostly D-min; null when none is needed.</summary>
    public string? BasePatchKey { get; }

    /// <summary>The channels it is charted in.</summary>
    public ImmutableArray<Channel> Channels { get; }

    /// <summary>Keys of the patches that a layout must have for it, beside two with a log exposure.</summary>
    public virtual IEnumerable<string> PatchKeys => BasePatchKey is { } key ? [key] : [];

    private protected void NeedsBase(bool isAboveBase)
    {
        if (isAboveBase && BasePatchKey is null)
        {
            throw new ImpossibleValueException($"{Name} counts from a density above the base, so it needs a base patch.");
        }
    }
}

/// <summary>The average gradient between two points of the curve: difference of density over difference of log exposure.</summary>
public sealed record GradientParameter : CurveParameter
{
    /// <summary>States the parameter.</summary>
    /// <exception cref="ImpossibleValueException">
    /// A name or the channels are empty, a channel is named twice, both points are one, the first lies beyond itself, or the base patch is missing.
    /// </exception>
    public GradientParameter(
        string key, string name, string standsFor, CurvePoint from, CurvePoint to, string? basePatchKey, ImmutableArray<Channel> channels, ParameterLimits limits)
        : base(key, name, standsFor, basePatchKey, channels, limits)
    {
        From = from is null or BeyondFirst
            ? throw new ImpossibleValueException($"The first point of {Name} lies at a log exposure or at a density above the base.")
            : from;
        To = to ?? throw new ImpossibleValueException($"{Name} needs a second point.");
        NeedsBase(from is AboveBase || to is AboveBase);
        if (from == to)
        {
            throw new ImpossibleValueException($"{Name} needs two different points.");
        }
    }

    /// <summary>The first point.</summary>
    public CurvePoint From { get; }

    /// <summary>The second point.</summary>
    public CurvePoint To { get; }

    /// <inheritdoc/>
    public override string Unit => "density per log H";
}

/// <summary>The slope of the straight part: the least-squares line through the steps from one patch to another.</summary>
public sealed record SlopeParameter : CurveParameter
{
    /// <summary>States the parameter.</summary>
    /// <exception cref="ImpossibleValueException">A name or the channels are empty, a channel is named twice, or both patches are one.</exception>
    public SlopeParameter(
        string key, string name, string standsFor, string fromPatchKey, string toPatchKey, ImmutableArray<Channel> channels, ParameterLimits limits)
        : base(key, name, standsFor, null, channels, limits)
    {
        FromPatchKey = Guard.Text(fromPatchKey, $"The first patch of {name}");
        ToPatchKey = Guard.Text(toPatchKey, $"The last patch of {name}");
        if (string.Equals(FromPatchKey, ToPatchKey, StringComparison.OrdinalIgnoreCase))
        {
            throw new ImpossibleValueException($"{name} needs two different patches.");
        }
    }

    /// <summary>Key of the patch at one end of the straight part.</summary>
    public string FromPatchKey { get; }

    /// <summary>Key of the patch at its other end.</summary>
    public string ToPatchKey { get; }

    /// <inheritdoc/>
    public override IEnumerable<string> PatchKeys => [FromPatchKey, ToPatchKey];

    /// <inheritdoc/>
    public override string Unit => "density per log H";
}

/// <summary>The speed point: the log exposure at which the density is so much above that of the base patch.</summary>
public sealed record SpeedPointParameter : CurveParameter
{
    /// <summary>States the parameter.</summary>
    /// <exception cref="ImpossibleValueException">
    /// A name, the base patch or the channels are empty, a channel is named twice, or the density is not above zero.
    /// </exception>
    public SpeedPointParameter(
        string key, string name, string standsFor, AboveBase at, string basePatchKey, ImmutableArray<Channel> channels, ParameterLimits limits)
        : base(key, name, standsFor, basePatchKey ?? "", channels, limits) =>
        At = at ?? throw new ImpossibleValueException($"{Name} needs a density above the base.");

    /// <summary>The density at which the point lies.</summary>
    public AboveBase At { get; }

    /// <inheritdoc/>
    public override string Unit => "log H";
}
