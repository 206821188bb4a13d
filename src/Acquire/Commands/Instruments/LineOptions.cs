using Acquire.Instruments.Links;

namespace Acquire.Commands.Instruments;

/// <summary>Options that set a serial line otherwise than its profile says.</summary>
internal sealed class LineOptions
{
    private readonly Option<int?> _baud = Common.Baud();
    private readonly Option<int?> _dataBits = new("--data-bits") { Description = "7 or 8.", HelpName = "N" };
    private readonly Option<LineParity?> _parity = new("--parity") { Description = "none, even, odd, mark or space.", HelpName = "PARITY" };
    private readonly Option<int?> _stopBits = new("--stop-bits") { Description = "1 or 2.", HelpName = "N" };

    public void AddTo(Command command)
    {
        command.Options.Add(_baud);
        command.Options.Add(_dataBits);
        command.Options.Add(_parity);
        command.Options.Add(_stopBits);
    }

    public LinkSettings Of(ParseResult parsed, LinkSettings usual) => usual with
    {
        Baud = parsed.GetValue(_baud) ?? usual.Baud,
        DataBits = parsed.GetValue(_dataBits) ?? usual.DataBits,
        Parity = parsed.GetValue(_parity) ?? usual.Parity,
        StopBits = parsed.GetValue(_stopBits) ?? usual.StopBits,
    };
}
