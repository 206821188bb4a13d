using Acquire.Web.Hosting;

namespace Acquire.Commands.Service;

/// <summary>Where <c>acquire serve</c> listens besides loopback, under which names and with which certificate.</summary>
internal sealed class ListenOptions
{
    private readonly Option<string?> _url = new("--url")
    {
        Description = "Where it listens: loopback, any free port when not given.",
        HelpName = "URL",
    };

    private readonly Option<string[]> _listen = Given.Option<string[]>(
        "--listen",
        "ADDRESS[:PORT]",
        "Listen there too, beyond this computer: takes a certificate and tokens. Port 8443 when not given; 0.0.0.0 for all addresses. "
            + "May be given several times.");

    private readonly Option<string[]> _host = Given.Option<string[]>(
        "--host", "NAME", "A name by which clients call this computer, besides those in the certificate; may be given several times.");

    private readonly Option<string?> _certificate = Given.Option<string?>(
        "--certificate", "FILE", "The certificate, PEM or PKCS #12; the one made by 'acquire serve cert' when not given.");

    private readonly Option<string?> _key =
        Given.Option<string?>("--key", "FILE", "The certificate's key, where it does not stand with it.");

    private readonly Option<string?> _password = Given.Option<string?>(
        "--password-from", "FILE", "A file whose first line is the password of the key.");

    public void AddTo(Command command)
    {
        foreach (var option in new Option[] { _url, _listen, _host, _certificate, _key, _password })
        {
            command.Options.Add(option);
        }
    }

    /// <summary>What is said goes before what the settings say.</summary>
    public void Apply(ParseResult parsed, ServiceOptions options)
    {
        options.Url = parsed.GetValue(_url) ?? options.Url;
        options.Listen = parsed.GetValue(_listen) is { Length: > 0 } listen ? listen : options.Listen;
        options.Hosts = parsed.GetValue(_host) is { Length: > 0 } hosts ? hosts : options.Hosts;
        options.CertificateKey = parsed.GetValue(_key) ?? options.CertificateKey;
        options.Certificate = parsed.GetValue(_certificate) ?? options.Certificate;
        options.CertificatePasswordFrom = parsed.GetValue(_password) ?? options.CertificatePasswordFrom;
    }
}
