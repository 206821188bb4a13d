namespace Acquire.Domain.Processes;

/// <summary>A process as data: density status, strip layout, parameters with their limits.</summary>
public sealed record ProcessSheet
{
    /// <exception cref="ImpossibleValueException">As with several layouts.</exception>
    public ProcessSheet(
        string key, string name, DensityStatus status, StripLayout layout, ImmutableArray<Parameter> parameters, string? note = null)
        : this(key, name, status, layout is null ? default : [SheetLayout.Of(layout)], parameters, note)
    {
    }

    /// <exception cref="ImpossibleValueException">A name is empty, there is no layout, a layout or parameter is named twice, a parameter
    /// refers to patches that no layout has together or to one that only draws the curve, a spread is taken of something that is not
    /// charted in all three colours, or limits are given for a channel that is not charted.</exception>
    public ProcessSheet(
        string key, string name, DensityStatus status, ImmutableArray<SheetLayout> layouts,
        ImmutableArray<Parameter> parameters, string? note = null)
    {
        Key = Guard.Text(key, "The key of a process sheet");
        Name = Guard.Text(name, "The name of a process");
        Status = status;
        Layouts =
            layouts.IsDefaultOrEmpty ? throw new ImpossibleValueException($"The process sheet '{Key}' needs a strip layout.") : layouts;
        Parameters = Guard.NotEmpty(parameters, $"The parameters of the process sheet '{Key}'");
        Note = note;
        Guard.Unique(Layouts, l => l.Key, "The strip layout");
        // By name too, as a lot remembers its layout by its name.
        Guard.Unique(Layouts, l => l.Strip.Name, "The strip layout");
        Guard.Unique(Parameters, p => p.Key, "The parameter");
        // Last, as a parameter may be taken of another one: all must be there, each key once, before any of them is followed.
        foreach (var parameter in Parameters)
        {
            parameter.CheckIn(this);
        }
    }

    /// <summary>The short word used in commands, such as <c>c41</c>.</summary>
    public string Key { get; }

    public string Name { get; }

    public DensityStatus Status { get; }

    /// <summary>Whether its strips are read through or off.</summary>
    public DensityGeometry Geometry { get; init; }

    /// <summary>The layouts its strips may have; the first is the usual one.</summary>
    public ImmutableArray<SheetLayout> Layouts { get; }

    /// <summary>The patches of its usual strips.</summary>
    public StripLayout Layout => Layouts[0].Strip;

    /// <summary>What is charted, in the order in which it is listed.</summary>
    public ImmutableArray<Parameter> Parameters { get; }

    /// <summary>What the user should know before trusting the sheet.</summary>
    public string? Note { get; }

    /// <summary>The channels that a strip of this process must be read in.</summary>
    public ImmutableArray<Channel> ChannelsNeeded => [.. Parameters.SelectMany(p => p.Channels).Distinct().Order()];

    /// <summary>Finds a parameter by key, in any case; null when the sheet has none.</summary>
    public Parameter? Find(string key) => Parameters.FirstOrDefault(p => Keys.Same(p.Key, key));

    /// <exception cref="ImpossibleValueException">The sheet has no such parameter; the message lists those it has.</exception>
    public Parameter Get(string key) => Find(key) ?? throw new ImpossibleValueException(
        $"The process sheet '{Key}' has no parameter '{key}'; it has {string.Join(", ", Parameters.Select(p => p.Key))}.");

    /// <summary>Finds a layout by key or name, in any case.</summary>
    /// <exception cref="ImpossibleValueException">The sheet has no such layout; the message lists those it has.</exception>
    public SheetLayout GetLayout(string keyOrName) =>
        // Keys first: the name of one layout may be the key of another.
        Layouts.FirstOrDefault(l => Keys.Same(l.Key, keyOrName))
        ?? Layouts.FirstOrDefault(l => Keys.Same(l.Strip.Name, keyOrName))
        ?? throw new ImpossibleValueException(
            $"The process sheet '{Key}' has no strip layout '{keyOrName}'; it has {string.Join(", ", Layouts.Select(l => l.Key))}.");

    /// <summary>What the sheet knows of the layout of a strip, found by the layout's name; null when it has none of that name.</summary>
    // By name: a lot keeps the layout that it was added with, and the sheet may have got other ones since.
    public SheetLayout? LayoutOf(StripLayout strip) => Layouts.FirstOrDefault(l => Keys.Same(l.Strip.Name, strip.Name));

    /// <summary>The parameters that can be taken of strips of a layout.</summary>
    public IEnumerable<Parameter> ParametersOn(SheetLayout layout) => Parameters.Where(p => p.IsOn(layout, this));
}

/// <summary>How the light goes through or off what is read.</summary>
public enum DensityGeometry
{
    /// <summary>Through the film (ISO 5-2).</summary>
    Transmission,

    /// <summary>Off the paper (ISO 5-4); read it over the same backing every time.</summary>
    Reflection,
}
