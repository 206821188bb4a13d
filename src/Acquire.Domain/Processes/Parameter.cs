namespace Acquire.Domain.Processes;

/// <summary>Something that is charted: a patch density, a difference of two patches, a spread over colours, or something of the curve. What
/// the rest of the program must know of a kind is a member here, so that nobody lists the kinds; where a layer has work of its own for each
/// kind, it goes through <see cref="Match"/>, and a new kind does not compile until every such place has its case.</summary>
public abstract record Parameter
{
    /// <param name="channels">The channels it is taken in; null for one number over all colours.</param>
    private protected Parameter(string key, string name, string standsFor, ImmutableArray<Channel>? channels, ParameterLimits limits)
    {
        Key = Guard.Text(key, "The key of a parameter");
        Name = Guard.Text(name, "The name of a parameter");
        (StandsFor, Limits) = (standsFor, limits);
        Channels = channels is { } given ? Guard.NotEmpty(given, $"The channels of {name}") : [];
        Guard.Unique(Channels, c => c.Word(), $"In {name} the channel");
    }

    /// <summary>The short word used in files, such as <c>contrast</c>.</summary>
    public string Key { get; }

    /// <summary>The trade's name, such as <c>HD − LD</c>.</summary>
    public string Name { get; }

    /// <summary>What it tells of the process, in a word or two.</summary>
    public string StandsFor { get; }

    /// <summary>The word of its kind in sheets, snapshots and exports, such as <c>speedPoint</c>.</summary>
    public abstract string Kind { get; }

    /// <summary>How it is made, in words, without its channels: <c>hd − ld</c>.</summary>
    public abstract string MadeOf { get; }

    /// <summary>The unit of its values and deviations.</summary>
    public virtual string Unit => "density";

    /// <summary>The channels it is taken in, as the sheet lists them; none for one number over all colours.</summary>
    public ImmutableArray<Channel> Channels { get; }

    /// <summary>The lines it is judged and charted in: one for each channel, or a single one, null, over all colours.</summary>
    public ImmutableArray<Channel?> Lines => Channels.IsEmpty ? [null] : [.. Channels.Select(c => (Channel?)c)];

    public virtual ImmutableArray<string> PatchKeys => [];

    /// <summary>Key of the parameter that it is taken of, beside which it is listed; null for what is taken of the strip itself.</summary>
    public virtual string? OfParameterKey => null;

    /// <summary>Whether it needs the curve of density over log exposure, so two patches
    /// with a log exposure beside <see cref="PatchKeys"/>.</summary>
    public virtual bool IsOfCurve => false;

    /// <summary>Whether its deviations go either way from aim. A spread has no sign, so that its deviations do not average out.</summary>
    public virtual bool HasSign => true;

    /// <summary>A deviation as people write it: without a sign where it has none.</summary>
    public string Written(double deviation) => HasSign ? Numbers.Deviation(deviation) : Numbers.Density(deviation);

    /// <summary>Its limits, for deviations from aim, in every channel that has none of its own.</summary>
    public ParameterLimits Limits { get; }

    /// <summary>The limits of single channels, which take the place of
    /// <see cref="Limits"/> there; a channel may have none at all.</summary>
    public ImmutableDictionary<Channel, ParameterLimits> ChannelLimits { get; init; } = ImmutableDictionary<Channel, ParameterLimits>.Empty;

    /// <summary>All its limits: those that are common to channels without their own under null, then those of single channels.</summary>
    public IEnumerable<(Channel? Channel, ParameterLimits Limits)> AllLimits =>
        ChannelLimits.OrderBy(l => l.Key).Select(l => ((Channel?)l.Key, l.Value)).Prepend((null, Limits));

    /// <summary>Whether any limit is set, in any channel.</summary>
    public bool HasLimits => AllLimits.Any(l => !l.Limits.AreEmpty);

    /// <summary>Where the numbers of its limits come from, each source once.</summary>
    public IEnumerable<string> LimitSources =>
        AllLimits.SelectMany(l => new[] { l.Limits.Action, l.Limits.Control }).OfType<Limit>().Select(l => l.Source).Distinct();

    /// <summary>The limits in one of its <see cref="Lines"/>.</summary>
    public ParameterLimits LimitsIn(Channel? channel) =>
        channel is { } c && ChannelLimits.TryGetValue(c, out var own) ? own : Limits;

    /// <summary>What one of its <see cref="Lines"/> is called in a sentence: with the channel,
    /// unless it has one line only, such as D-max B − yellow B.</summary>
    public string NameIn(Channel? channel) => channel is { } c && Channels.Length > 1 ? $"{Name} {c.Word()}" : Name;

    /// <summary>Whether it can be taken of strips of a layout of its sheet.</summary>
    public virtual bool IsOn(SheetLayout layout, ProcessSheet sheet) =>
        PatchKeys.All(k => layout.Find(k) is not null) && (!IsOfCurve || layout.Patches.Count(p => p.LogH is not null) >= 2);

    /// <summary>Asks for what a layer does with each kind; the compiler asks for all of them.</summary>
    public abstract T Match<T>(
        Func<PatchParameter, T> patch, Func<DifferenceParameter, T> difference, Func<SpreadParameter, T> spread,
        Func<CurveParameter, T> curve);

    /// <summary>Checks that what it refers to is in its sheet.</summary>
    /// <exception cref="ImpossibleValueException">Something is not there, or cannot serve.</exception>
    internal void CheckIn(ProcessSheet sheet)
    {
        CheckReferences(sheet);
        // Such a limit would be kept, shown in the sheet, and never judge anything.
        if (ChannelLimits.Keys.Except(Channels).Order().Select(c => (Channel?)c).FirstOrDefault() is { } stray)
        {
            throw new ImpossibleValueException($"{Name} has limits for {stray.Word()}, in which it is not charted.");
        }
    }

    private protected virtual void CheckReferences(ProcessSheet sheet)
    {
        if (!sheet.Layouts.Any(l => IsOn(l, sheet)))
        {
            throw NotOnAny(sheet);
        }

        // A step of a wedge is exposed to draw the curve and has no aim of its own; judged alone it would be called off for its lot.
        foreach (var key in PatchKeys.Where(_ => !IsOfCurve))
        {
            if (sheet.Layouts.FirstOrDefault(l => l.Find(key) is { Role: PatchRole.Curve }) is { } layout)
            {
                throw new ImpossibleValueException(
                    $"{Name} is taken of the patch '{key}', which only draws the curve in "
                    + $"the strip layout '{layout.Strip.Name}'; its role must be judged.");
            }
        }
    }

    private ImpossibleValueException NotOnAny(ProcessSheet sheet)
    {
        if (PatchKeys.FirstOrDefault(k => sheet.Layouts.All(l => l.Find(k) is null)) is { } missing)
        {
            // The one layout says what it has; of several, each may lack something else.
            _ = sheet.Layouts.Length == 1 ? sheet.Layout.GetByKey(missing) : null;
            return new ImpossibleValueException($"{Name} needs the patch '{missing}', which no strip layout of '{sheet.Key}' has.");
        }

        var together = string.Join(" and ", PatchKeys);
        return new ImpossibleValueException(IsOfCurve
            ? $"{Name} is taken of a curve, so a strip layout must have two patches with a log exposure (logH) at "
                + $"least{(together.Length > 0 ? ", and " : "")}{together}."
            : $"{Name} needs a strip layout that has {together} together.");
    }

    private protected static string TwoPatches(string first, string second, string name) =>
        Keys.Same(first, second) ? throw new ImpossibleValueException($"{name} needs two different patches.") : second;
}
