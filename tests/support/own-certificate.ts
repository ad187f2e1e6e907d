import { execFileSync } from 'node:child_process';
import { join } from 'node:path';

/** Files of a certificate of our own for a name of our own and this machine, valid for a day, made by OpenSSL. */
export function ownCertificate(folder: string, name: string): { certificate: string; key: string } {
  const [certificate, key] = [join(folder, 'certificate.pem'), join(folder, 'key.pem')];
  const subject = ['-subj', `/CN=${name}`, '-addext', `subjectAltName=DNS:${name},IP:127.0.0.1`];
  const curve = ['-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1'];
  const files = ['-keyout', key, '-out', certificate];
  const request = ['req', '-x509', ...curve, '-nodes', '-days', '1', ...files, ...subject];
  execFileSync('openssl', request, { stdio: 'ignore' });
  return { certificate, key };
}
