namespace Acquire.Domain.Processes;

/// <summary>Something that is charted: a patch density, a difference of two patches, a spread over colours, or something of the curve.</summary>
public abstract record Parameter
{
    private protected Parameter(string key, string name, string standsFor, ParameterLimits limits)
    {
        Key = Guard.Text(key, "The key of a parameter");
        Name = Guard.Text(name, "The name of a parameter");
        StandsFor = standsFor;
        Limits = limits;
    }

    /// <summary>The short word used in files, such as <c>contrast</c>.</summary>
    public string Key { get; }

    /// <summary>The trade's name, such as <c>HD − LD</c>.</summary>
    public string Name { get; }

    /// <summary>What it tells of the process, in a word or two.</summary>
    public string StandsFor { get; }

    /// <summary>Its limits, for deviations from aim, in every channel that has none of its own.</summary>
    public ParameterLimits Limits { get; }

    /// <summary>The limits of single channels, which take the place of <see cref="Limits"/> there; a channel may have none at all.</summary>
    public ImmutableDictionary<Channel, ParameterLimits> ChannelLimits { get; init; } = ImmutableDictionary<Channel, ParameterLimits>.Empty;

    /// <summary>The unit of its values and deviations.</summary>
    public virtual string Unit => "density";

    /// <summary>Whether any limit is set, in any channel.</summary>
    public bool HasLimits => ChannelLimits.Values.Append(Limits).Any(l => !l.AreEmpty);

    /// <summary>The limits in one channel; null stands for a parameter over all colours.</summary>
    public ParameterLimits LimitsIn(Channel? channel) =>
        channel is { } c && ChannelLimits.TryGetValue(c, out var own) ? own : Limits;
}

/// <summary>The density of one patch.</summary>
public sealed record PatchParameter : Parameter
{
    /// <summary>States the parameter.</summary>
    /// <exception cref="ImpossibleValueException">A name or the channels are empty, or a channel is named twice.</exception>
    public PatchParameter(string key, string name, string standsFor, string patchKey, ImmutableArray<Channel> channels, ParameterLimits limits)
        : base(key, name, standsFor, limits)
    {
        PatchKey = Guard.Text(patchKey, $"The patch of {name}");
        Channels = Guard.NotEmpty(channels, $"The channels of {name}");
        Guard.Unique(Channels, c => c.Word(), $"In {name} the channel");
    }

    /// <summary>Key of the patch.</summary>
    public string PatchKey { get; }

    /// <summary>The channels it is charted in.</summary>
    public ImmutableArray<Channel> Channels { get; }
}

/// <summary>The density of one patch minus that of another, in the same channel.</summary>
public sealed record DifferenceParameter : Parameter
{
    /// <summary>States the parameter.</summary>
    /// <exception cref="ImpossibleValueException">A name or the channels are empty, a channel is named twice, or both patches are one.</exception>
    public DifferenceParameter(
        string key, string name, string standsFor, string patchKey, string minusPatchKey, ImmutableArray<Channel> channels, ParameterLimits limits)
        : base(key, name, standsFor, limits)
    {
        PatchKey = Guard.Text(patchKey, $"The first patch of {name}");
        MinusPatchKey = Guard.Text(minusPatchKey, $"The second patch of {name}");
        Channels = Guard.NotEmpty(channels, $"The channels of {name}");
        Guard.Unique(Channels, c => c.Word(), $"In {name} the channel");
        if (string.Equals(PatchKey, MinusPatchKey, StringComparison.OrdinalIgnoreCase))
        {
            throw new ImpossibleValueException($"{name} needs two different patches.");
        }
    }

    /// <summary>Key of the patch that is taken.</summary>
    public string PatchKey { get; }

    /// <summary>Key of the patch that is taken away.</summary>
    public string MinusPatchKey { get; }

    /// <summary>The channels it is charted in.</summary>
    public ImmutableArray<Channel> Channels { get; }
}

/// <summary>
/// The largest minus the smallest colour deviation of another parameter. Definitions differ between published documents; this is
/// the usual one, and the one the tool uses.
/// </summary>
public sealed record SpreadParameter : Parameter
{
    /// <summary>States the parameter.</summary>
    /// <exception cref="ImpossibleValueException">A name is empty.</exception>
    public SpreadParameter(string key, string name, string standsFor, string ofKey, ParameterLimits limits)
        : base(key, name, standsFor, limits) => OfKey = Guard.Text(ofKey, $"The parameter that {name} is taken of");

    /// <summary>Key of the parameter whose colour deviations are compared.</summary>
    public string OfKey { get; }
}
