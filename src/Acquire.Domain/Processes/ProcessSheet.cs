using System.Collections.Immutable;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Strips;

namespace Acquire.Domain.Processes;

/// <summary>A process as data: density status, strip layout, parameters with their limits.</summary>
public sealed record ProcessSheet
{
    /// <summary>Makes a sheet.</summary>
    /// <exception cref="ImpossibleValueException">
    /// A name is empty, a parameter key is used twice, a parameter refers to a patch or parameter the sheet lacks, or a spread is
    /// taken of something that is not charted in all three colours.
    /// </exception>
    public ProcessSheet(
        string key, string name, DensityStatus status, StripLayout layout, ImmutableArray<Parameter> parameters, string? note = null)
    {
        Key = Guard.Text(key, "The key of a process sheet");
        Name = Guard.Text(name, "The name of a process");
        Status = status;
        Layout = layout ?? throw new ImpossibleValueException($"The process sheet '{Key}' needs a strip layout.");
        Parameters = Guard.NotEmpty(parameters, $"The parameters of the process sheet '{Key}'");
        Note = note;
        Guard.Unique(Parameters, p => p.Key, "The parameter");
        foreach (var parameter in Parameters)
        {
            CheckReferences(parameter);
        }
    }

    /// <summary>The short word used in commands, such as <c>c41</c>.</summary>
    public string Key { get; }

    /// <summary>The process's name.</summary>
    public string Name { get; }

    /// <summary>The density status its strips are read with.</summary>
    public DensityStatus Status { get; }

    /// <summary>The patches of its strips.</summary>
    public StripLayout Layout { get; }

    /// <summary>What is charted, in the order in which it is listed.</summary>
    public ImmutableArray<Parameter> Parameters { get; }

    /// <summary>What the user should know before trusting the sheet.</summary>
    public string? Note { get; }

    /// <summary>The channels that a strip of this process must be read in.</summary>
    public ImmutableArray<Channel> ChannelsNeeded => [.. Parameters.SelectMany(p => ChannelsOf(p)).Distinct().Order()];

    /// <summary>Finds a parameter by key, in any case; null when the sheet has none.</summary>
    public Parameter? Find(string key) => Parameters.FirstOrDefault(p => string.Equals(p.Key, key, StringComparison.OrdinalIgnoreCase));

    /// <summary>Finds a parameter by key.</summary>
    /// <exception cref="ImpossibleValueException">The sheet has no such parameter; the message lists those it has.</exception>
    public Parameter Get(string key) => Find(key) ?? throw new ImpossibleValueException(
        $"The process sheet '{Key}' has no parameter '{key}'; it has {string.Join(", ", Parameters.Select(p => p.Key))}.");

    private static ImmutableArray<Channel> ChannelsOf(Parameter parameter) => parameter switch
    {
        PatchParameter patch => patch.Channels,
        DifferenceParameter difference => difference.Channels,
        _ => [],
    };

    private void CheckReferences(Parameter parameter)
    {
        switch (parameter)
        {
            case PatchParameter patch:
                _ = Layout.GetByKey(patch.PatchKey);
                break;
            case DifferenceParameter difference:
                _ = Layout.GetByKey(difference.PatchKey);
                _ = Layout.GetByKey(difference.MinusPatchKey);
                break;
            case SpreadParameter spread when !Densitometry.Channels.Colours.All(ChannelsOf(Get(spread.OfKey)).Contains):
                throw new ImpossibleValueException(
                    $"{spread.Name} is the spread of '{spread.OfKey}', which must be a patch or difference in red, green and blue.");
            default:
                break;
        }
    }
}
