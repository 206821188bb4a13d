using Acquire.Bench.Books;

namespace Acquire.Commands.Books;

/// <summary>The options that say how a solution is kept.</summary>
internal sealed class StorageOptions
{
    private readonly Option<string?> _container =
        new("--container") { Description = "What it is kept in, such as glass, PET, accordion, tank.", HelpName = "TEXT" };
    private readonly Option<string?> _capacity =
        new("--holds") { Description = "How much the container holds brim-full, such as 1L.", HelpName = "VOLUME" };
    private readonly Option<string?> _gas =
        new("--gas") { Description = "The gas above the solution, such as air, nitrogen, argon, butane (flammable).", HelpName = "TEXT" };
    private readonly Option<double?> _temperature = new("--stored") { Description = "Storage temperature in °C.", HelpName = "C" };

    public void AddTo(Command command)
    {
        command.Options.Add(_container);
        command.Options.Add(_capacity);
        command.Options.Add(_gas);
        command.Options.Add(_temperature);
    }

    public BottleStorage Of(ParseResult parsed) => new(
        parsed.GetValue(_container),
        parsed.GetValue(_capacity) is { } text ? Amounts.Volume(text) : null,
        parsed.GetValue(_gas),
        parsed.GetValue(_temperature));
}
